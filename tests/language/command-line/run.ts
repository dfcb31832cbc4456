/** Runs the command line in this process with what it writes caught. */
import { main } from '../../../language/src/command-line/main.ts';
import type { Output } from '../../../language/src/command-line/terminal.ts';
import { plainStyle } from '../../../language/src/report/style.ts';

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

function caught(): { readonly output: Output; readonly text: () => string } {
  let all = '';
  const output: Output = { isTerminal: false, style: plainStyle, write: (text) => void (all += text) };
  return { output, text: () => all };
}

export async function thou(...typed: string[]): Promise<Ran> {
  const [out, err] = [caught(), caught()];
  const code = await main(typed, { out: out.output, err: err.output });
  return { code, out: out.text(), err: err.text() };
}
