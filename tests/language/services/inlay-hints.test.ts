/** Room to a limit beside a figure: only where it is little, at the figure that can be turned for it. */
import { settingsIn } from '@thou/shared/settings';
import { describe, expect, test } from 'vitest';
import { inlayHintsFeature, marginHints, valueHints } from '../../../language/src/services/inlay-hints.ts';
import type { Asked } from '../../../language/src/services/feature.ts';
import { hostileTexts, samples, workspaceOf } from './open.ts';

const build = (thickness: string, limits: string): string => `use prelude 1
build one {
  layout: single
  block { bore: 80.0 mm, deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston.compression-height: 30.0 mm
  head-gasket { bore: 82 mm, thickness: ${thickness} mm }
  quench-limits: ${limits} mm
}
`;
function hints(text: string): string[] {
  const workspace = workspaceOf({ 'one.thou': text });
  return marginHints(workspace, 'file:///one.thou', 0, text.length).map(({ position, label }) => {
    const line = text.split('\n')[position.line]!;
    return `${line.slice(0, position.character).trim()}|${typeof label === 'string' ? label : ''}`;
  });
}

describe('the hint', () => {
  test('stands behind the figure that is turned for the limit, with the room that is left', () => {
    // quench is 1 mm of deck and the gasket: 1.97 mm, 0.03 mm under 2.00; a width of 0.8 mm, so an eighth is 0.1 mm
    expect(hints(build('0.97', '1.2..2.0'))).toEqual([
      'head-gasket { bore: 82 mm, thickness: 0.97 mm|0.030 under 2.000 mm: quench',
    ]);
    expect(hints(build('0.25', '1.2..2.0'))).toEqual([
      'head-gasket { bore: 82 mm, thickness: 0.25 mm|0.050 above 1.200 mm: quench',
    ]);
  });
  test('says so where the figure stands on its limit', () => {
    expect(hints(build('1.00', '1.2..2.0'))[0]).toMatch(/\|on its limit 2\.000 mm: quench$/);
  });
  test('is not there with room to spare, nor where it is out of limits already', () => {
    expect(hints(build('0.60', '1.2..2.0'))).toEqual([]);
    expect(hints(build('1.10', '1.2..2.0'))).toEqual([]);
  });
  test('with one limit counts digits that are shown', () => {
    expect(hints(build('0.996', '<= 2.0'))).toHaveLength(1);
    expect(hints(build('0.990', '<= 2.0'))).toEqual([]);
  });
});

test('is short enough to be seen whole, the figure and its limit first', () => {
  const text = samples.get('tarn-427.thou')!;
  const labels = marginHints(workspaceOf(samples), 'file:///tarn-427.thou', 0, text.length).map(({ label }) => label);
  expect(labels.length).toBeGreaterThan(3);
  for (const label of labels) {
    expect(label).toMatch(/^(\S+ (above|under)|on its limit) \S+/);
    // editors cut behind 43 characters
    expect(label.length, JSON.stringify(label)).toBeLessThanOrEqual(43);
  }
});

describe('beside a formula', () => {
  const text = build('0.60', '1.2..2.0').replace(
    '  quench',
    `  machining "Deck" { block.deck-height: was - 0.25 mm }
  expect quench within 1..2 mm
  quench`,
  );
  const labels = (of: string): string[] => {
    const workspace = workspaceOf({ 'one.thou': of });
    return valueHints(workspace, 'file:///one.thou', 0, of.length).map(({ position, label }) => {
      const line = of.split('\n')[position.line]!;
      return `${line.slice(0, position.character).trim()}|${typeof label === 'string' ? label : ''}`;
    });
  };
  test('stands what it comes to, and beside what is expected the figure; nothing beside a figure that is written out', () => {
    const found = labels(text);
    expect(found).toContain('machining "Deck" { block.deck-height: was - 0.25 mm|= 205.750 mm');
    // 205.75 - 35 - 140 - 30 and the gasket's 0.60
    expect(found).toContain('expect quench|= 1.350 mm');
    expect(found.every((one) => one.includes('was -') || one.startsWith('expect'))).toBe(true);
  });
  test('of the library, and of what cannot be told, nothing stands', () => {
    expect(labels('use prelude 1\nbuild one {\n  layout: single\n  expect compression within 5..20\n}\n')).toEqual([]);
  });
});

test('can be switched off for a folder', async () => {
  const text = build('0.97', '1.2..2.0');
  const workspace = workspaceOf({ 'one.thou': text });
  const range = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
  const asked = (margins: boolean) =>
    ({ workspace, settings: () => Promise.resolve(settingsIn({ inlayHints: { margins } })) }) as unknown as Asked;
  const [{ handle }] = inlayHintsFeature.requests as [(typeof inlayHintsFeature.requests)[number]];
  const params = { textDocument: { uri: 'file:///one.thou' }, range };
  expect(await handle(params, asked(true))).toHaveLength(1);
  expect(await handle(params, asked(false))).toEqual([]);
});

test('only what stands between the places asked for', () => {
  const text = build('0.97', '1.2..2.0');
  const workspace = workspaceOf({ 'one.thou': text });
  const at = text.indexOf('thickness');
  expect(marginHints(workspace, 'file:///one.thou', 0, at)).toEqual([]);
  expect(marginHints(workspace, 'file:///one.thou', at, text.length)).toHaveLength(1);
});

test('no sample and no broken text has hints that are outside of it, or two at one place', () => {
  for (const [path, text] of hostileTexts()) {
    const workspace = workspaceOf(new Map([...samples, [path, text]]));
    const found = marginHints(workspace, `file:///${path}`, 0, text.length);
    const lines = text.split('\n');
    for (const { position } of found) expect(position.character).toBeLessThanOrEqual(lines[position.line]!.length);
    expect(new Set(found.map(({ position }) => `${position.line}:${position.character}`)).size).toBe(found.length);
  }
});
