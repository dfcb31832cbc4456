// `thou fmt PATH…`: sets indents and blanks of files, or tells which of them it would change.
import { readFileSync, realpathSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { format as formatText } from '../format/format.ts';
import type { Command } from './command.ts';
import { nameFromHere } from './files.ts';
import { codeWithUnread, filesNamed } from './named-files.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmless } from './terminal.ts';

export const format: Command = {
  name: 'fmt',
  takes: 'PATH…',
  summary: 'sets indents, blanks and blank lines; changes no word and no comment, and leaves files with mistakes alone',
  options: [{ name: 'check', text: 'write nothing; exit code 1 where a file would change' }],
  run(args, { out, err }) {
    if (args.given.length === 0) throw new Refusal('Name a file or a folder to format.');
    let changed = 0;
    let refused = 0;
    const files = filesNamed(args.given);
    for (const path of files.paths) {
      const name = harmless(nameFromHere(pathToFileURL(path).href));
      const text = readFileSync(path, 'utf8');
      const formatted = formatText(text);
      if ('refused' in formatted) {
        refused++;
        err.write(`thou: ${name} is left alone: ${harmless(formatted.refused)}.\n`);
      } else if (formatted.text !== text) {
        changed++;
        if (!args.has('check')) replace(path, formatted.text);
        out.write(`${name}${args.has('check') ? ' would change' : ''}\n`);
      }
    }
    const isFine = refused === 0 && !(args.has('check') && changed > 0);
    return codeWithUnread(files, isFine ? exitCode.holds : exitCode.findings, err);
  },
};

/** In one step, so that no half-written file is ever left. */
function replace(path: string, text: string): void {
  const real = realpathSync(path);
  const beside = `${real}.writing`;
  try {
    writeFileSync(beside, text, { mode: statSync(real).mode, flag: 'wx' });
    renameSync(beside, real);
  } catch {
    throw new Refusal(`"${path}" cannot be written.`);
  }
}
