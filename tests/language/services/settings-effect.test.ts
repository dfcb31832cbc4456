/** Every setting of the table does something: what an editor is answered with it, and without. */
import { expect, test } from 'vitest';
import type { CompletionList, Hover } from 'vscode-languageserver';
import { settingsIn, settingTable, type SettingName } from '@thou/shared/settings';
import { diagnosticsOf, piecesOf } from '../../../language/src/services/diagnostics.ts';
import { answered } from './asking.ts';
import { workspaceOf } from './open.ts';

/** A single with a finding out of its limits, a mistake, and a figure near its limit. */
const text = `use prelude 1
part spare: Gasket { bore: 82 mm }
build one {
  duty: circuit
    redline: 9000 rpm
  layout: inline-4
  block { bore: 80.0 mm, deck-height: 206.0 mm +0.02/-0.02 }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston { compression-height: 30.0 mm, dish: 2.0 cc }
  head.chamber: 30.0 cc
  head-gasket { bore: 82 mm, thickness: 1.00 mm }
  expect compression within 10.4..10.8
  expect deck-clearance within 0.00..1.03 mm
  measured "Burette" on 2026-03-01 { head.chamber: [1: 30.0, others: 30.4] cc }
  nonsense: 3 mm
}

`;
const uri = 'file:///one.thou';
function placeOf(word: string): { line: number; character: number } {
  const before = text.slice(0, text.indexOf(word)).split('\n');
  return { line: before.length - 1, character: before.at(-1)!.length };
}
const textDocument = { uri };
const at = (word: string) => ({ textDocument, position: placeOf(word) });
const over = (word: string) => ({
  textDocument,
  range: { start: placeOf(word), end: placeOf(word) },
  context: { diagnostics: [] },
});
const whole = { start: { line: 0, character: 0 }, end: { line: 20, character: 0 } };

function nested(name: string, value: unknown): object {
  return name.split('.').reduceRight<unknown>((inside, key) => ({ [key]: inside }), value) as object;
}

type Ask = (told: object) => Promise<unknown>;
const one = workspaceOf({ 'one.thou': text });
const ask =
  (method: string, params: object, seen: (answer: never) => unknown = (answer) => answer): Ask =>
  async (told) =>
    seen((await answered(one, `textDocument/${method}`, params, told)) as never);
const diagnostics: Ask = (told) => {
  const settings = settingsIn({ ...told });
  const workspace = workspaceOf({ 'one.thou': text });
  for (const piece of piecesOf(workspace, uri, settings)) piece();
  const reader = { client: {}, pages: 'x:/', spelled: (other: string) => other };
  return Promise.resolve(diagnosticsOf(workspace, uri, reader, settings).map(({ message }) => message));
};
const titles = (answer: readonly { readonly title: string }[]): string[] => answer.map(({ title }) => title);
const told = (answer: Hover): string => (answer.contents as { value: string }).value;

/** A value other than the usual, and a question whose answer it changes. */
const effects: Readonly<
  Record<Exclude<SettingName, 'trace.server'>, readonly [unknown, Ask, (with_: never, without: never) => void]>
> = {
  'findings.from': [
    'error',
    diagnostics,
    (few: string[], all: string[]) => expect(few.length).toBeLessThan(all.length),
  ],
  'findings.most': [
    1,
    diagnostics,
    (few: string[], all: string[]) => expect(few).toEqual([expect.any(String), `and ${all.length - 1} more`]),
  ],
  'findings.files': [
    'open',
    diagnostics,
    (few: string[], all: string[]) => expect([few, all.length > 0]).toEqual([[], true]),
  ],
  'fixes.workedOut': [
    false,
    ask('codeAction', over('206.0 mm'), titles),
    (few: string[], all: string[]) => {
      expect(all.join('\n')).toMatch(/compression height 30\.\d+ mm/);
      expect(few.join('\n')).not.toMatch(/compression height 30\.\d+ mm/);
    },
  ],
  'fixes.accept': [
    false,
    ask('codeAction', over('206.0 mm'), titles),
    (few: string[], all: string[]) => {
      expect(all.some((title) => title.startsWith('Accept'))).toBe(true);
      expect(few.some((title) => title.startsWith('Accept'))).toBe(false);
    },
  ],
  'fixes.convert': [
    false,
    ask('codeAction', over('140 mm'), titles),
    (few: string[], all: string[]) => {
      expect(all.join('\n')).toMatch(/ in\b/);
      expect(few).toEqual([]);
    },
  ],
  'inlayHints.margins': [
    false,
    ask('inlayHint', { textDocument, range: whole }, (hints: unknown[]) => hints.length),
    (none: number, some: number) => expect([none, some > 0]).toEqual([0, true]),
  ],
  'inlayHints.values': [
    true,
    ask('inlayHint', { textDocument, range: whole }, (hints: { label: string }[]) => hints.map(({ label }) => label)),
    (more: string[], usual: string[]) => {
      expect(more.filter((label) => label.startsWith('= ')).length).toBeGreaterThan(0);
      expect(usual.filter((label) => label.startsWith('= '))).toEqual([]);
    },
  ],
  'hover.formula': [
    false,
    ask('hover', at('compression within'), told),
    (less: string, all: string) => {
      expect(all).toContain('Formula');
      expect(less).not.toContain('swept-volume +');
    },
  ],
  'hover.unsure': [
    false,
    ask('hover', at('deck-clearance within'), told),
    (less: string, all: string) => {
      expect(all).toContain('Unsure through');
      expect(less).not.toContain('Unsure through');
    },
  ],
  'hover.limits': [
    false,
    ask('hover', at('compression within'), told),
    (less: string, all: string) => {
      expect(all).toContain('Limits');
      expect(less).not.toContain('Limits');
    },
  ],
  'hover.places': [
    1,
    ask('hover', at('compression within'), told),
    (less: string, all: string) =>
      expect([less, all]).toEqual([expect.stringContaining('and 3 more'), expect.not.stringContaining('more')]),
  ],
  'explanation.steps': [
    1,
    (settings) =>
      answered(one, 'thou/report', { ...at('compression within'), sort: 'explanation', build: null }, settings),
    (less: { text: string }, more: { text: string }) => expect(less.text.length).toBeLessThan(more.text.length),
  ],
  'codeLens.build': [
    false,
    ask('codeLens', { textDocument }, (lenses: unknown[]) => lenses.length),
    (none: number, some: number) => expect([none, some > 0]).toEqual([0, true]),
  ],
  'codeLens.parts': [
    true,
    ask('codeLens', { textDocument }, (lenses: unknown[]) => lenses.length),
    (more: number, some: number) => expect(more).toBeGreaterThan(some),
  ],
  'outline.figures': [
    false,
    ask('documentSymbol', { textDocument }, (tree: unknown) => JSON.stringify(tree)),
    (less: string, all: string) => {
      expect(all).toContain('9000 rpm');
      expect(less).not.toContain('9000 rpm');
    },
  ],
  'completion.toFill': [
    false,
    ask('completion', { textDocument, position: { line: 17, character: 0 } }, (list: CompletionList) =>
      list.items.some(({ insertTextFormat }) => insertTextFormat === 2),
    ),
    (less: boolean, all: boolean) => expect([less, all]).toEqual([false, true]),
  ],
  'formatting.enabled': [
    false,
    ask('formatting', { textDocument, options: { tabSize: 2, insertSpaces: true } }),
    (none: unknown, edits: unknown[]) => {
      expect(none).toBeNull();
      expect(edits).not.toHaveLength(0);
    },
  ],
};

test.each(Object.entries(effects))('%s', async (name, [value, question, differs]) => {
  expect(settingTable[name as SettingName].usual).not.toBe(value);
  differs((await question(nested(name, value))) as never, (await question({})) as never);
});
