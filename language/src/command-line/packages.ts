// Part libraries as packages: which file of one stands for all of it, as its package.json says. Nothing else of a package is looked at.
import { readFileSync, realpathSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { objectionInside, packageEntry } from '../semantics/written-paths.ts';

const mostBytes = 64 * 1024;

/** `"thou": "parts.thou"` in package.json; else the usual one. `holds`: what may be opened. */
export function entryOf(home: string, holds: (path: string) => boolean): string {
  const named = fieldOf(join(home, 'package.json'), holds);
  return typeof named === 'string' && objectionInside(named) === null ? named : packageEntry;
}

function fieldOf(path: string, holds: (path: string) => boolean): unknown {
  try {
    const real = realpathSync(path);
    const about = statSync(real);
    if (!about.isFile() || about.size > mostBytes || !holds(real)) return undefined;
    const read: unknown = JSON.parse(readFileSync(real, 'utf8'));
    return typeof read === 'object' && read !== null ? new Map(Object.entries(read)).get('thou') : undefined;
  } catch {
    return undefined;
  }
}
