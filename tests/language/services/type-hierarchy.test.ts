/** What parts and variants are made from, both ways, across files. */
import { expect, test } from 'vitest';
import { subtypesOf, supertypesOf, typeHierarchyAt } from '../../../language/src/services/type-hierarchy.ts';
import { breathe, workspaceOf } from './open.ts';

const parts = `use prelude 1
component Plate { width: Length }
part plain: Plate { width: 2 in }
part wide: Plate of plain { width: 3 in }
`;
const job = `use prelude 1
use "parts.thou"
extend Engine { plate: Plate }
build a { plate: wide }
variant b of a { plate: plain }
variant c of b { }
`;
const workspace = workspaceOf({ 'parts.thou': parts, 'job.thou': job });
const at = (file: string, word: string) =>
  typeHierarchyAt(workspace, `file:///${file}`, (file === 'job.thou' ? job : parts).indexOf(word) + 1)?.[0];
const names = (items: readonly { readonly name: string; readonly detail?: string }[]): string[] =>
  items.map(({ name, detail }) => `${detail} ${name}`);

test.each([
  ['parts.thou', 'wide:', 'part wide', ['part plain'], []],
  ['parts.thou', 'plain:', 'part plain', ['component Plate'], ['part wide']],
  ['parts.thou', 'Plate {', 'component Plate', [], ['part plain']],
  ['job.thou', 'a {', 'build a', [], ['variant b']],
  ['job.thou', 'b of', 'variant b', ['build a'], ['variant c']],
  // from a use, in another file
  ['job.thou', 'wide }', 'part wide', ['part plain'], []],
])('%s, %s', async (file, word, itself, above, below) => {
  const item = at(file, word)!;
  expect(names([item])).toEqual([itself]);
  expect(names(supertypesOf(workspace, item))).toEqual(above);
  expect(names(await subtypesOf(workspace, item, breathe))).toEqual(below);
});

test('a figure is made from nothing of the sort', () => {
  expect(at('parts.thou', 'width: 2')).toBeUndefined();
});
