/**
 * The pages of language/docs/problems as data: a title, and two sets of files, one that goes wrong and one that is mended.
 * A fenced block is a file; `main.thou` where its info string names none. Files that the second set does not name stay as they are in the first.
 */
import { readdirSync, readFileSync } from 'node:fs';

export const folder = new URL('../../../language/docs/problems/', import.meta.url);

export interface Page {
  readonly name: string;
  /** The first line without its sign: `name.unknown: A name that is not known`. */
  readonly title: string;
  readonly prose: string;
  readonly wrong: ReadonlyMap<string, string>;
  readonly mended: ReadonlyMap<string, string>;
}

/** What a page cannot show as it is: ␀ stands for a zero byte, ⟪text⟫×n for n copies, in which § is the number of the copy and §§ the next one. */
function spelledOut(text: string): string {
  return text
    .replaceAll('␀', '\0')
    .replace(/⟪([^⟫]*)⟫×(\d+)/g, (_, copy: string, times: string) =>
      Array.from({ length: Number(times) }, (_, i) =>
        copy.replaceAll('§§', String(i + 1)).replaceAll('§', String(i)),
      ).join(''),
    );
}

function filesIn(section: string): Map<string, string> {
  const blocks = [...section.matchAll(/^```(thou|csv) ?(\S*)\n([^]*?)^```$/gm)];
  return new Map(blocks.map(([, kind, name, body]) => [name || `main.${kind}`, spelledOut(body!)]));
}

function readPage(name: string): Page {
  const text = readFileSync(new URL(`${name}.md`, folder), 'utf8');
  const match = /^# (.+)\n\n([^]+?)\n\n## Goes wrong\n([^]+)\n## Mended\n([^]+)$/.exec(text);
  if (!match) throw new Error(`${name}.md wants a title, a paragraph, "## Goes wrong" and "## Mended"`);
  const [, title, prose, first, second] = match;
  const wrong = filesIn(first!);
  return { name, title: title!, prose: prose!, wrong, mended: new Map([...wrong, ...filesIn(second!)]) };
}

export const allPages: readonly Page[] = readdirSync(folder)
  .filter((name) => name.endsWith('.md') && name !== 'README.md')
  .map((name) => readPage(name.replace(/\.md$/, '')))
  .sort((a, b) => (a.name < b.name ? -1 : 1));
