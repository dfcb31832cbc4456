/** After an edit the build that is known first is told at once; what was told of the others stays beside it, where it stands now. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver-protocol';
import { settingsIn } from '@thou/shared/settings';
import { positions } from '../../../language/src/grammar/file.ts';
import { diagnosticsOf, piecesOf, type Reader } from '../../../language/src/services/diagnostics.ts';
import { LastSaid } from '../../../language/src/services/last-said.ts';
import { toOffset, toRange } from '../../../language/src/services/positions.ts';
import { Telling } from '../../../language/src/services/telling.ts';
import { workspaceOf } from './open.ts';

const reader: Reader = {
  client: { textDocument: { publishDiagnostics: { relatedInformation: true } } },
  pages: '',
  spelled: (uri) => uri,
};
const uri = 'file:///jig.thou';
const jig = (bore: string, far: string): string => `use prelude 1

build jig {
  layout: single
  block.bore: ${bore}
  expect block.bore within 4.0..4.2 in
}

variant far of jig {
  block.bore: 4.5 in
  expect block.bore within ${far} in
}
`;

function telling(text: string) {
  const workspace = workspaceOf({ 'jig.thou': text });
  workspace.open(uri, text);
  const told = new Telling(workspace, reader, () => settingsIn({}));
  const type = (next: string): (() => void)[] => {
    workspace.open(uri, next);
    return piecesOf(workspace, uri);
  };
  return { workspace, told, type };
}

const textOf = ({ message }: Diagnostic): string => (typeof message === 'string' ? message : message.value);
const wordsOf = (all: readonly Diagnostic[]): string[] => all.map((one) => textOf(one).split('\n')[0]!);
const isOfVariant = (one: Diagnostic): boolean => textOf(one).startsWith('In far');

test('the build that is known is told anew, the variant as before, until it is known too', () => {
  const { told, type } = telling(jig('4.3 in', '3.0..3.1'));
  for (const piece of type(jig('4.3 in', '3.0..3.1'))) piece();
  const before = wordsOf(told.diagnosticsOf(uri));
  expect(before.filter((one) => one.startsWith('In far'))).toHaveLength(1);
  const [first, ...rest] = type(`// one line more\n${jig('4.400 in', '3.0..3.1')}`);
  first!();
  expect(rest).toHaveLength(1);
  const meanwhile = told.diagnosticsOf(uri);
  const [own, variants] = [false, true].map((isOf) => meanwhile.filter((one) => isOfVariant(one) === isOf));
  expect(wordsOf(own!).join()).toContain('4.4');
  expect(wordsOf(variants!)).toEqual(before.filter((one) => one.startsWith('In far')));
  rest[0]!();
  const all = told.diagnosticsOf(uri);
  // it stood where the variant's own line stands now
  expect(variants![0]!.range).toEqual(all.find(isOfVariant)!.range);
});

test('when all is known, all is as a fresh look has it', () => {
  const { workspace, told, type } = telling(jig('4.3 in', '3.0..3.1'));
  const texts = [jig('4.1 in', '3.0..3.1'), jig('4.3 in', '4.0..4.5'), '', jig('4.3', '4.0..4.5')];
  for (const text of texts) {
    for (const piece of type(text)) {
      piece();
      told.diagnosticsOf(uri);
    }
    expect(told.diagnosticsOf(uri)).toEqual(diagnosticsOf(workspace, uri, reader));
  }
});

test('a place moves with its text, and is given up where the text under it was cut', () => {
  const text = fc.string({ unit: fc.constantFrom('a', 'b', '\n', '±'), minLength: 1, maxLength: 60 });
  fc.assert(
    fc.property(text, fc.nat(), fc.nat(), text, fc.nat(), fc.nat(), (before, a, b, put, c, d) => {
      const within = (x: number): number => x % (before.length + 1);
      const [start, end] = [within(a), within(b)].sort((x, y) => x - y) as [number, number];
      const [from, to] = [within(c), within(d)].sort((x, y) => x - y) as [number, number];
      const after = before.slice(0, from) + put + before.slice(to);
      const last = new LastSaid();
      const range = toRange(positions(before), { start, end });
      last.whole(uri, { text: before, positions: positions(before) }, [
        { build: 'one', figures: null, diagnostic: { range, message: '' } },
        { build: 'two', figures: null, diagnostic: { range, message: '' } },
      ]);
      const now = positions(after);
      const moved = last.since(uri, uri, { text: after, positions: now }).of((build) => build === 'one');
      expect(moved.length).toBeLessThanOrEqual(1);
      for (const { range: there } of moved) {
        const shown = after.slice(toOffset(now, there.start), toOffset(now, there.end));
        const was = before.slice(start, end);
        // as it was, or with the edit inside of it
        expect(shown === was || shown.length - was.length === after.length - before.length).toBe(true);
      }
      if (before === after) expect(moved.map((one) => one.range)).toEqual([range]);
    }),
    { seed: 7 },
  );
});
