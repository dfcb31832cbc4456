/** Files in memory, the samples among them, as a host of a project. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Host } from '../../../language/src/semantics/project.ts';

export const samples = new URL('../../../samples/', import.meta.url).pathname;

export class Desk implements Host {
  readonly texts = new Map<string, string>();

  read(uri: string): string | undefined {
    return this.texts.get(uri);
  }

  resolve(from: string, path: string): ReturnType<Host['resolve']> {
    const uri = join(dirname(from), path);
    return this.texts.has(uri) ? { uri } : { problem: 'not-found', why: '' };
  }
}

export function loadFolder(desk: Desk, folder: string): void {
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) loadFolder(desk, path);
    else desk.texts.set(path, readFileSync(path, 'utf8'));
  }
}
