/**
 * Which declarations of the trade library a test holds. A declaration is held where a test names it, or where one that is held is made
 * of it. The builds in which a test asks for it (a sample, a row, a case of a rule, the example in its comment) are its example: it has
 * a figure there, and the test says which.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { parseFile } from '../../language/src/grammar/file.ts';
import type { Declaration, Item } from '../../language/src/grammar/generated/ast.ts';
import { library } from './library.ts';

export interface Declared {
  readonly file: string;
  readonly item: Item | Declaration;
}

export const declared: readonly Declared[] = library.files.flatMap(({ uri, text }) =>
  parseFile(uri, text).blocks.flatMap(({ parsed: { item } }): Declared[] => {
    if (!item) return [];
    const file = uri.replace('prelude:/', '');
    if (item.$type !== 'Component' && item.$type !== 'Extend') return [{ file, item }];
    return [{ file, item }, ...(item.body?.declarations ?? []).map((declaration) => ({ file, item: declaration }))];
  }),
);

export function nameOf({ item }: Declared): string {
  return 'name' in item && item.name ? item.name : item.$type;
}

const wordsOf = (text: string): ReadonlySet<string> => new Set(text.match(/[A-Za-z_]\w*(?:-\w+)*/g));

/** Tests of the trade: this folder, without the two files that keep the books. */
function testTexts(): readonly string[] {
  const folder = new URL('./', import.meta.url);
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && name !== 'held.ts' && name !== 'library.test.ts')
    .map((name) => readFileSync(new URL(name, folder), 'utf8'));
}

/** Derives, functions and rules that no test leads to, with their file. */
export function notHeld(): readonly string[] {
  const uses = new Map<string, Set<string>>();
  for (const one of declared) {
    const known = uses.get(nameOf(one)) ?? new Set<string>();
    for (const word of wordsOf(one.item.$cstNode?.text ?? '')) known.add(word);
    if (one.item.$type !== 'Component' && one.item.$type !== 'Extend') uses.set(nameOf(one), known);
  }
  const held = new Set<string>();
  const hold = (name: string): void => {
    if (held.has(name) || !uses.has(name)) return;
    held.add(name);
    for (const used of uses.get(name)!) hold(used);
  };
  for (const text of testTexts()) for (const word of wordsOf(text)) hold(word);
  return declared
    .filter(({ item }) => ['Derive', 'FunctionDeclaration', 'Rule'].includes(item.$type))
    .filter((one) => !held.has(nameOf(one)))
    .map((one) => `${one.file}: ${nameOf(one)}`);
}

/** Limits that no rule or derive reads: nobody would notice them. */
export function limitsNotRead(): readonly string[] {
  const read = new Set<string>();
  for (const { item } of declared) {
    if (item.$type === 'Component' || item.$type === 'Extend') continue;
    const words = wordsOf(item.$cstNode?.text ?? '');
    for (const word of words) if (!('name' in item) || word !== item.name) read.add(word);
  }
  return declared
    .filter(({ item }) => item.$type === 'Property' && item.type?.limits === true)
    .filter((one) => !read.has(nameOf(one)))
    .map((one) => `${one.file}: ${nameOf(one)}`);
}
