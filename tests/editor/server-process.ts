/** The language server's process as the system sees it: the tests stop and kill it as an accident would. */
import { readdirSync, readFileSync } from 'node:fs';

/** Of the editor whose profile lies in `home`; null while there is none. */
export function serverOf(home: string): number | null {
  const found = readdirSync('/proc').find((entry) => {
    if (!/^\d+$/.test(entry)) return false;
    const command = commandOf(entry);
    return command.includes(home) && command.includes('dist/language/server.cjs');
  });
  return found === undefined ? null : Number(found);
}

function commandOf(entry: string): string {
  try {
    return readFileSync(`/proc/${entry}/cmdline`, 'utf8');
  } catch {
    return ''; // it ended meanwhile
  }
}
