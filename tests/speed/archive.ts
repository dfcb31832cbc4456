/**
 * An archive of builds at the command line and in the language server: opened, checked, compared with each other
 * and with an earlier state; time and memory against its size.
 * `node tests/speed/archive.ts --write` writes archive.md; `--sizes=10,100` measures fewer.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { samples } from './text.ts';
import { Client } from './server/client.ts';

const top = new URL('../../', import.meta.url).pathname;
const program = join(top, 'language/bin/thou.js');
const sizes = (process.argv.find((word) => word.startsWith('--sizes='))?.slice(8) ?? '10,100,1000')
  .split(',')
  .map(Number);

interface Measured {
  readonly seconds: number;
  readonly megabytes: number;
}

/** Of so many builds one is another in the later state. */
const changesEach = 10;

/** One job a file, about a hundred lines each, with the parts that all of them share. */
function makeArchive(folder: string, count: number): number {
  mkdirSync(folder, { recursive: true });
  for (const shared of ['parts.thou', 'parts', 'brackwater.thou', 'tarn-bores.csv'])
    cpSync(join(samples, shared), join(folder, shared), { recursive: true });
  const text = readFileSync(join(samples, 'tarn-427.thou'), 'utf8');
  const build = text.slice(0, text.search(/^(\/\/\/[^\n]*\n)*variant /m));
  const notes = Array.from(
    { length: 100 - build.split('\n').length },
    (_, at) => `// ${at + 1}: as the job card says\n`,
  );
  let lines = 0;
  for (let number = 1; number <= count; number++) {
    const own =
      build.replaceAll('tarn-427', `tarn-${number}`).replace('7300 rpm', `${7300 + number} rpm`) + notes.join('');
    lines += own.split('\n').length;
    writeFileSync(join(folder, `job-${number}.thou`), own);
  }
  return lines;
}

/** The archive some time later: a tenth of the builds has another figure. */
function makeLater(folder: string, count: number): string {
  const later = `${folder}-later`;
  cpSync(folder, later, { recursive: true });
  for (let number = 1; number <= count; number += changesEach) {
    const path = join(later, `job-${number}.thou`);
    writeFileSync(path, readFileSync(path, 'utf8').replace(`${7300 + number} rpm`, '7250 rpm'));
  }
  return later;
}

function run(folder: string, words: readonly string[]): Measured {
  const tellMemory = `data:text/javascript,process.on("exit",()=>process.stderr.write("\\nheld "+process.resourceUsage().maxRSS))`;
  const start = performance.now();
  const { stderr, status } = spawnSync(process.execPath, [`--import=${tellMemory}`, program, ...words], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 1 << 30,
  });
  const seconds = (performance.now() - start) / 1000;
  const held = /held (\d+)/.exec(stderr)?.[1];
  if (status === 2 || held === undefined) throw new Error(`thou ${words.join(' ')}: ${stderr}`);
  return { seconds, megabytes: Number(held) / 1024 };
}

/** From the start of the server until every build of the folder is known by its name. */
async function open(folder: string, count: number): Promise<Measured> {
  const start = performance.now();
  const client = new Client([program, 'serve', '--stdio']);
  await client.start(pathToFileURL(folder).href, false, {});
  const found = (await client.request('workspace/symbol', { query: `tarn-${count}` })) as readonly { name: string }[];
  if (!found.some(({ name }) => name === `tarn-${count}`)) throw new Error(`tarn-${count} was not found`);
  const seconds = (performance.now() - start) / 1000;
  const status = readFileSync(`/proc/${client.process.pid}/status`, 'utf8');
  client.process.kill();
  return { seconds, megabytes: Number(/VmHWM:\s+(\d+)/.exec(status)?.[1]) / 1024 };
}

/** How the cost grows where it goes with the size to this power: 1 is linear. */
function growth(few: Measured, many: Measured, times: number): number {
  return Math.log(many.seconds / few.seconds) / Math.log(times);
}

const home = mkdtempSync(join(tmpdir(), 'thou-archive-'));
const rows: string[] = [];
const results: (readonly Measured[])[] = [];
const jobs = ['opened', 'checked', 'compared', 'diffed'] as const;
try {
  for (const count of sizes) {
    const folder = join(home, String(count));
    const lines = makeArchive(folder, count);
    const opened = await open(folder, count);
    const checked = run(folder, ['check', '.', '--root', '.']);
    const names = Array.from({ length: count }, (_, at) => `job-${at + 1}.thou`);
    const compared = run(folder, ['compare', ...names, '--root', '.']);
    const diffed = run(home, ['diff', folder, makeLater(folder, count), '--root', home]);
    const measured = [opened, checked, compared, diffed];
    results.push(measured);
    const cells = measured.map((one) => `${one.seconds.toFixed(1)} s | ${Math.round(one.megabytes)} MB`);
    rows.push(`| ${count} | ${lines.toLocaleString('en')} | ${cells.join(' | ')} |`);
    console.log(rows.at(-1));
  }
} finally {
  rmSync(home, { recursive: true, force: true });
}

const [few, many] = [results.at(-2), results.at(-1)];
const powers =
  few && many
    ? jobs.map((what, at) => `${what} ${growth(few[at]!, many[at]!, sizes.at(-1)! / sizes.at(-2)!).toFixed(2)}`)
    : [];
const table = [
  '# An archive of builds',
  '',
  `${cpus().length} cores, ${cpus()[0]?.model.trim() ?? 'unknown'}; Node ${process.version}. One run; seconds by the clock, and the most memory that was held.`,
  '',
  'Written by `npx node tests/speed/archive.ts --write`. Opened: the language server, from its start until every build can be found by its name. Checked: `thou check .`. Compared: `thou compare` of all of them. Diffed: `thou diff` of the archive and a later state of it, in which every tenth build has another figure. Many files are worked on in as many threads as there are cores.',
  '',
  '| builds | lines | opened | | checked | | compared | | diffed | |',
  '| -----: | ----: | -----: | -: | ------: | -: | -------: | -: | -----: | -: |',
  ...rows,
  '',
  ...(powers.length === 0
    ? []
    : [
        `From the last size but one to the last the time grows with the power of the size: ${powers.join(', ')} (1 is linear).`,
        '',
      ]),
].join('\n');
if (process.argv.includes('--write')) writeFileSync(join(top, 'tests/speed/archive.md'), table);
else console.log(table);
