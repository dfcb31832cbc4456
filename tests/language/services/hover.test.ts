/** What a hover says, as a person reads it: at many places of the samples, and at every place without throwing. */
import { describe, expect, test } from 'vitest';
import { hoverAt } from '../../../language/src/services/hover/hover.ts';
import { library } from '../../reference/library.ts';
import { hostileTexts, samples, workspaceOf } from './open.ts';

const workspace = workspaceOf(samples);

function hover(file: string, before: string, word: string, markdown = false): string {
  const uri = file.includes(':') ? file : `file:///${file}`;
  const text = workspace.source(uri)!.text;
  const from = text.indexOf(before);
  if (from < 0) throw new Error(`${before} is not in ${file}`);
  const found = hoverAt(workspace, uri, from + before.indexOf(word), markdown);
  if (!found) return 'nothing';
  return (found.contents as { value: string }).value.replaceAll('file:///', '');
}

const places: readonly [file: string, before: string, word: string][] = [
  ['fell-427.thou', 'block.bore: 4.1250', 'bore'],
  ['fell-427.thou', 'head.chamber: [1', 'chamber'],
  ['fell-427.thou', 'compression[1]: 10.58', 'compression'],
  ['fell-427.thou', 'expect compression', 'compression'],
  ['fell-427.thou', 'expect quench', 'quench'],
  ['fell-427.thou', 'accept top-ring-gap[3]', 'top-ring-gap'],
  ['fell-427.thou', 'ring.gap[top]', 'gap'],
  ['fell-427.thou', 'ring.gap[top]', 'top'],
  ['fell-427.thou', 'rod[3].bolt[a].stretch', 'stretch'],
  ['fell-427.thou', 'with bore-gauge', 'bore-gauge'],
  ['fell-427.thou', 'cc with burette', 'cc'],
  ['fell-427.thou', '66.1, 3: 65.8', '65.8'],
  ['fell-427.thou', 'head-gasket.thickness: was', 'was'],
  ['fell-427.thou', 'main-housing: [2.6410', 'main-housing'],
  ['tarn-427.thou', 'layout: vee-8-cross', 'vee-8-cross'],
  ['brackwater.thou', 'derive wall-per-inch', 'wall-per-inch'],
  ['brackwater.thou', 'spread(piston-to-wall', 'spread'],
  ['brackwater.thou', 'piston-to-wall over', 'piston-to-wall'],
  ['brackwater.thou', 'Ratio per', 'Ratio'],
  ['parts/tarn.thou', 'part "Ledgate 210"', 'Ledgate'],
  ['prelude:/stack-up.thou', 'derive quench', 'quench'],
];

describe('in words', () => {
  test.each(places)('%s: %s: %s', (file, before, word) => {
    expect(hover(file, before, word)).toMatchSnapshot();
  });
  test.each(places.slice(0, 3))('in Markdown, %s: %s: %s', (file, before, word) => {
    expect(hover(file, before, word, true)).toMatchSnapshot();
  });
});

test('the cell that is named is the one that is told', () => {
  expect(hover('fell-427.thou', 'rod[3].bolt[a].stretch', 'stretch').split('\n')[0]).toBe(
    'rod[3].bolt[a].stretch = 0.0060 in / 0.152 mm',
  );
});

test('text of a file never becomes markup', () => {
  const text =
    'use prelude 1\n/// <b>x</b> [a](command:run) ![i](http://x) `code` Source: none.\nderive odd: Ratio = 1\nbuild b { expect odd within 1 .. 2 }\n';
  const one = workspaceOf({ 'a.thou': text });
  const { value } = hoverAt(one, 'file:///a.thou', text.indexOf('odd within'))!.contents as { value: string };
  expect(value).toContain('\\<b\\>');
  expect(value.replace(/```text[^]*?```/g, '')).not.toMatch(/(^|[^\\])[<[`!]/m);
});

test('the first line is short', () => {
  for (const [file, before, word] of places) expect(hover(file, before, word).split('\n')[0]!.length).toBeLessThan(120);
});

test('what is worn is told to be unsure through the earlier reading too, with its place', () => {
  const text = `use prelude 1
part gauge: Instrument { resolution: 0.002 mm, uncertainty: 0.004 mm, calibrated: 2026-01-10 }
build b {
  layout: single
  measured "Built" on 2026-03-01 { block.bore: [80.010] mm with gauge }
  machining "Season" on 2026-10-18 { hours-run: was + 31 h }
  measured "Taken apart" on 2026-11-02 { block.bore: [80.022] mm with gauge }
  tear-down { last-run: 2026-10-18 }
  expect tear-down.bore-worn within <= 0.011 mm
}
`;
  const one = workspaceOf({ 'worn.thou': text });
  const { value } = hoverAt(one, 'file:///worn.thou', text.indexOf('bore-worn') + 1, false)!.contents as {
    value: string;
  };
  expect(value).toMatch(/Unsure through\s+block\.bore\[1\] +± .*\n *block\.bore\[1\] before +± .*\(\S*worn\.thou:5\)/);
});

test('no place of any text throws', { timeout: 240_000 }, () => {
  for (const [path, text] of [
    ...hostileTexts(),
    ...library.files.slice(0, 3).map(({ uri, text: own }) => [uri, own] as const),
  ]) {
    const isLibrary = path.includes(':');
    const one = isLibrary ? workspace : workspaceOf(new Map([...samples, [path, text]]));
    for (let offset = 0; offset <= text.length; offset += 5)
      hoverAt(one, isLibrary ? path : `file:///${path}`, offset, offset % 2 === 0);
  }
});

describe('words that choose how a function works', () => {
  const kit = `use prelude 1
component Kit {
  tall: Length = 3.2 mm
  grain: Length = 0.5 mm
  shape: Length against Length = [1 mm: 1 mm, 2 mm: 4 mm]
  up: Length = 1 mm
  a: Length = to-step(tall, grain, up)
  b: Length = to-step(tall, grain, nearest)
  c: Length against Length = through(shape, log)
  d: Length = largest(up, grain)
  e: Flag = yes
}
`;
  test.each([
    [
      'grain, up',
      7,
      /chooses how to-step\(…\) works\s+To the next step that is not less\.\s+Else: nearest, down\. Where none is written: nearest\./,
    ],
    ['grain, nearest', 7, /nearest chooses how to-step/],
    ['shape, log', 7, /log chooses how through\(…\) works\s+Straight in the logarithm/],
    ['(up, grain', 1, /^up figure: a Length/],
    ['= yes', 2, /^yes a word of the language\s+It is so\.$/],
  ])('%s', (place, shift, told) => {
    const one = workspaceOf({ 'kit.thou': kit });
    const found = hoverAt(one, 'file:///kit.thou', kit.indexOf(place) + shift, false);
    expect((found?.contents as { value: string } | undefined)?.value).toMatch(told);
  });
});
