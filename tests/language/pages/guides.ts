/**
 * The pages of language/docs as scripts: fenced blocks that name a file are written, `console` blocks are run line by line, and what is
 * said is compared with what stands under each command. `npm run pages` writes what is said today into the pages.
 */
import { execFileSync } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { main } from '../../../language/src/command-line/main.ts';
import type { Output } from '../../../language/src/command-line/terminal.ts';
import { plainStyle } from '../../../language/src/report/style.ts';

export const guides = new URL('../../../language/docs/', import.meta.url);
const top = fileURLToPath(new URL('../../../', import.meta.url));

interface Block {
  /** What stands behind the fence: `thou wren.thou`, `console exit=1`. */
  readonly kind: string;
  readonly name: string;
  readonly body: string;
  /** Where the body stands in the page. */
  readonly start: number;
  readonly end: number;
}

/** One command of a console block with what it is to say. */
interface Step {
  readonly command: string;
  readonly told: string;
}

interface Ran {
  readonly block: Block;
  /** The block as it would stand there today. */
  readonly now: string;
  readonly asTold: boolean;
  readonly code: number;
}

export const guideNames: readonly string[] = readdirSync(guides)
  .filter((name) => name.endsWith('.md'))
  .sort();

export function blocksOf(page: string): Block[] {
  return [...page.matchAll(/^```(\w+)(?: ([^\n]*))?\n([^]*?)^```$/gm)].map((match) => {
    const [whole, kind, name = '', body] = match;
    const start = match.index + whole.indexOf('\n') + 1;
    return { kind: kind!, name, body: body!, start, end: start + body!.length };
  });
}

export function textOfGuide(name: string): string {
  return readFileSync(new URL(name, guides), 'utf8');
}

/** Runs a page in a folder of its own, block by block. */
export async function runGuide(page: string): Promise<Ran[]> {
  const home = realpathSync(mkdtempSync(join(tmpdir(), 'thou-guide-')));
  const here = process.cwd();
  try {
    process.chdir(home);
    const ran: Ran[] = [];
    for (const block of blocksOf(page)) {
      if (block.kind === 'console') ran.push(await runBlock(block));
      else await runRecipe(block);
      if (block.kind !== 'console' && /^[\w./-]+$/.test(block.name)) writeUnder(home, block.name, block.body);
    }
    return ran;
  } finally {
    process.chdir(here);
    rmSync(home, { recursive: true, force: true });
  }
}

/** Commands of this tool in a recipe for a shell: each must be one that it knows. Those for a code host are run in `recipes.test.ts`. */
async function runRecipe({ kind, body }: Block): Promise<void> {
  if (kind !== 'sh') return;
  for (const [, words] of body.matchAll(/\bthou(?:\.js)? ((?:check|diff|fmt|sheet|help) [^>|&;\n]*)/g)) {
    const typed = words!
      .trim()
      .split(/ +/)
      .map((word) => word.replace(/^"?\$\w+"?$/, 'job.thou'));
    const { code, out } = await runThou(typed);
    if (code === 2) throw new Error(`thou ${typed.join(' ')}: ${out}`);
  }
}

function writeUnder(home: string, name: string, text: string): void {
  mkdirSync(dirname(join(home, name)), { recursive: true });
  writeFileSync(join(home, name), text);
}

async function runBlock(block: Block): Promise<Ran> {
  const said: string[] = [];
  let code = 0;
  let asTold = true;
  for (const { command, told } of stepsOf(block.body)) {
    const run = await runCommand(command);
    code = run.code;
    const same = fits(told, run.out);
    asTold &&= same;
    said.push(`$ ${command}\n${same ? told : run.out}`);
  }
  return { block, now: said.join(''), asTold, code };
}

function stepsOf(body: string): Step[] {
  return body
    .split(/^\$ /m)
    .slice(1)
    .map((step) => {
      const end = step.indexOf('\n');
      return { command: step.slice(0, end), told: step.slice(end + 1) };
    });
}

/** A line with nothing but `…` stands for any lines, `…` in a line for anything in it; where in the library a thing stands may move. */
function fits(told: string, out: string): boolean {
  const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  const line = (text: string): string =>
    escaped(text)
      .replaceAll('…', '[^\\n]*')
      .replace(/(trade library, [\w-]+\\\.thou:)\d+/g, '$1\\d+');
  const pieces = told.split(/^…\n/m).map(line);
  return new RegExp(`^${pieces.join('(?:[^]*\\n)?')}$`).test(out);
}

const dated = { GIT_AUTHOR_DATE: '2026-03-14T12:00:00Z', GIT_COMMITTER_DATE: '2026-03-14T12:00:00Z' };
const named = {
  GIT_AUTHOR_NAME: 'A. H.',
  GIT_AUTHOR_EMAIL: 'ah@example.org',
  GIT_COMMITTER_NAME: 'A. H.',
  GIT_COMMITTER_EMAIL: 'ah@example.org',
};

async function runCommand(command: string): Promise<{ readonly out: string; readonly code: number }> {
  const words = [...command.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain!);
  const [program, ...rest] = words[0] === 'npx' ? words.slice(1) : words;
  if (program === 'thou') return runThou(rest);
  if (program === 'copy-sample') return copySample(rest[0]!);
  if (program !== 'npm' && program !== 'git') throw new Error(`a page may not run "${command}"`);
  const offline = program === 'npm' ? ['--offline', '--no-audit', '--no-fund', '--silent'] : [];
  const out = execFileSync(program, [...rest, ...offline], {
    encoding: 'utf8',
    env: { ...process.env, ...dated, ...named, GIT_CONFIG_GLOBAL: '/dev/null' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return { out, code: 0 };
}

async function runThou(typed: readonly string[]): Promise<{ readonly out: string; readonly code: number }> {
  let out = '';
  const output: Output = { isTerminal: false, style: plainStyle, write: (text) => void (out += text) };
  const code = await main(typed, { out: output, err: output });
  return { out: out === '' || out.endsWith('\n') ? out : `${out}\n`, code };
}

/** A folder of the samples, as if it had been fetched. */
function copySample(name: string): { readonly out: string; readonly code: number } {
  cpSync(join(top, 'samples', name), name.split('/').at(-1)!, { recursive: true });
  return { out: '', code: 0 };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const name of process.argv.length > 2 ? process.argv.slice(2) : guideNames) {
    const page = textOfGuide(name);
    const ran = await runGuide(page);
    const now = ran.reduceRight(
      (text, { block, now: said }) => text.slice(0, block.start) + said + text.slice(block.end),
      page,
    );
    writeFileSync(new URL(name, guides), now);
  }
}
