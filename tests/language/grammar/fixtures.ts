/** Whole files that use every construct of the language, free of mistakes. */
import { readdirSync, readFileSync } from 'node:fs';

const folder = new URL('./fixtures/', import.meta.url);

export const fixtures: readonly { readonly name: string; readonly text: string }[] = readdirSync(folder)
  .filter((name) => name.endsWith('.thou'))
  .sort()
  .map((name) => ({ name, text: readFileSync(new URL(name, folder), 'utf8') }));
