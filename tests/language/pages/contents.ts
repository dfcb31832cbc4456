/** The contents of language/docs/problems, from the first lines of its pages: `npm run generate` writes them, a test holds that they are current. */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { allPages, folder } from './read.ts';

/** In the order in which a text is read. */
const groups: readonly (readonly [heading: string, prefixes: readonly string[]])[] = [
  ['How the text is written', ['syntax']],
  ['Names', ['name']],
  ['Files and the trade library', ['use']],
  ['Units', ['unit']],
  ['What adds, compares and fits', ['dimension']],
  ['Figures along an axis, lists and curves', ['axes', 'list']],
  ['Functions and searches', ['call', 'solve']],
  ['Components, figures and rules of your own', ['declare', 'cycle']],
  ['What a build, a part or a reading gives', ['given', 'reading']],
  ['Readings from a file', ['csv']],
  ['Checks of a build', ['rule', 'to-size', 'expect', 'accept', 'missing']],
];

export const indexFile = new URL('README.md', folder);

export function indexText(): string {
  const sections = groups.map(([heading, prefixes]) => {
    const own = allPages.filter(({ name }) => prefixes.includes(name.split('.')[0]!));
    const lines = own.map(({ name, title }) => `- [${name}](${name}.md): ${title.slice(name.length + 2)}`);
    return `## ${heading}\n\n${lines.join('\n')}\n`;
  });
  return `# What Thou says, and what to do about it\n\nEach message ends with a code. Its page tells what is wrong and why it matters, with an example that goes wrong and the same one mended.\n\n${sections.join('\n')}`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(indexFile, indexText());
