// What a command writes to the disk instead of the terminal: never over a file of the job, and told in one line, so that nobody has to look
// whether anything was written. The line goes where complaints go: what is piped on stays what was asked for.
import { existsSync, mkdirSync, readFileSync, realpathSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { csvStart } from '../report/sheets/csv.ts';
import { statOf } from './files.ts';
import { Refusal } from './refusal.ts';
import { harmless } from './terminal.ts';
import type { Output } from './terminal.ts';

/** `holds`: what is in it, in words. A table goes only over one that was written here. */
export function writeFile(
  target: string,
  text: string,
  { source, holds, isTable = false, err }: { source: string; holds: string; isTable?: boolean; err: Output },
): void {
  const isOwnTable = isTable && /\.csv$/i.test(target) && (!statOf(target) || startsAsTable(target));
  if (/\.(thou|csv)$/i.test(target) && !isOwnTable)
    throw new Refusal(`"${target}" would be written over as a file of the job; choose another ending.`);
  if (statOf(target) && realpathSync(target) === source) throw new Refusal(`"${target}" is the file itself.`);
  try {
    writeFileSync(target, text);
  } catch {
    throw new Refusal(`"${target}" cannot be written.`);
  }
  err.write(`thou: ${harmless(target)} is written: ${harmless(holds)}.\n`);
}

/** The first page is the one to begin with. */
export function writePages(folder: string, pages: ReadonlyMap<string, string>, err: Output): void {
  if (existsSync(folder) && !statOf(folder)?.isDirectory()) throw new Refusal(`"${folder}" is not a folder.`);
  try {
    mkdirSync(folder, { recursive: true });
    for (const [name, text] of pages) writeFileSync(join(folder, name), text);
  } catch {
    throw new Refusal(`"${folder}" cannot be written to.`);
  }
  const [start = ''] = pages.keys();
  err.write(
    `thou: ${pages.size} files are written into ${harmless(folder)}; begin with ${harmless(join(folder, start))}.\n`,
  );
}

/** Readings of a job begin otherwise. */
function startsAsTable(path: string): boolean {
  try {
    return readFileSync(path, 'utf8').startsWith(csvStart);
  } catch {
    return false;
  }
}
