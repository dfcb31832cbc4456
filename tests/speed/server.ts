/**
 * The language server against others on the same amount of text, in one run: edit to diagnostics, answers to questions, start, heap, a library
 * under a thousand builds. A report, not a test. `--write` puts it into `server.md` beside this file; `--quick` leaves the largest out.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { heapOf } from './server/heap.ts';
import { libraryEdits } from './server/library.ts';
import { edits, measure, opened, spreadOf, startOf, type Measured, type Spread } from './server/measure.ts';
import { slipped, subjectsIn } from './server/subjects.ts';

const isQuick = process.argv.includes('--quick');
const sizes = isQuick ? [100, 1_000] : [100, 1_000, 10_000];
const rounds = 15;
const starts = 5;
const manyEdits = 500;
const report: string[] = [];

function say(...lines: readonly string[]): void {
  report.push(...lines);
  for (const line of lines) console.log(line);
}

const shown = (ms: number): string => (ms < 10 ? ms.toFixed(1) : ms.toFixed(0));
const both = (spread: Spread | null): string => (spread ? `${shown(spread.median)} / ${shown(spread.p95)}` : '–');

const work = mkdtempSync(join(tmpdir(), 'thou-speed-'));
try {
  const { compared, empty } = await subjectsIn(work);
  const [thou] = compared;
  if (!thou) throw new Error('nothing to measure');
  say('# Speed of the language server', '');
  say(
    `${cpus().length} cores, ${cpus()[0]?.model ?? 'unknown'}; Node ${process.version}. Milliseconds, median / 95 of a hundred.`,
    '',
  );
  say(
    'Written by `npx node tests/speed/server.ts --write`. Machines differ: what counts are the ratios within one run.',
  );

  const found = new Map<string, Map<number, Measured>>();
  for (const subject of compared) {
    const ofSubject = new Map<number, Measured>();
    for (const lines of sizes) ofSubject.set(lines, await measure(subject, work, lines, rounds));
    found.set(subject.name, ofSubject);
  }
  const table = (title: string, pick: (measured: Measured) => Spread | null): void => {
    say('', `## ${title}`, '', `| | ${sizes.map((lines) => `${lines.toLocaleString('en')} lines`).join(' | ')} |`);
    say(`| --- |${' ---: |'.repeat(sizes.length)}`);
    for (const [name, of] of found)
      say(`| ${name} | ${sizes.map((lines) => both(pick(of.get(lines)!))).join(' | ')} |`);
  };
  table('From an edit to the diagnostics that reflect it', ({ edit }) => edit);
  table('Hover', ({ hover }) => hover);
  table('Completion', ({ completion }) => completion);

  say('', '## From the start of the process to the first diagnostics, 100 lines', '', '| | |', '| --- | ---: |');
  for (const subject of [...compared.filter(({ pull }) => !pull), empty]) {
    const times: number[] = [];
    for (let time = 0; time < starts; time++) times.push(await startOf(subject, work, 100));
    say(`| ${subject.name} | ${both(spreadOf(times))} |`);
  }
  // what an empty grammar says of a text it says of its words: so does Thou where there is a slip, before it knows what they mean
  const times: number[] = [];
  for (let time = 0; time < starts; time++) times.push(await startOf(slipped(thou), work, 100));
  say(`| Thou, a slip in the text | ${both(spreadOf(times))} |`);

  say(
    '',
    `## Heap over ${manyEdits} edits at 1,000 lines, swept, in MB`,
    '',
    '| after 20 | after all | |',
    '| ---: | ---: | ---: |',
  );
  const client = await opened(thou, work, 1_000, { flags: ['--inspect=0'] });
  const inspector = await client.announced;
  if (inspector === null) throw new Error('the server cannot be looked into');
  await edits(thou, client, work, 1_000, 20);
  const early = await heapOf(inspector);
  await edits(thou, client, work, 1_000, manyEdits - 20);
  const late = await heapOf(inspector);
  await client.stop();
  say(`| ${(early / 1e6).toFixed(1)} | ${(late / 1e6).toFixed(1)} | ${((late / early - 1) * 100).toFixed(1)} % |`);

  const builds = 1_000;
  const { local, library } = await libraryEdits(thou, join(work, 'many'), builds, rounds);
  say('', `## A folder of ${builds.toLocaleString('en')} builds that use one library`, '');
  say('| edit in the open build | edit in the library, seen in the open build | ratio |', '| ---: | ---: | ---: |');
  say(`| ${both(local)} | ${both(library)} | ${(library.median / local.median).toFixed(2)} |`);
} finally {
  rmSync(work, { recursive: true, force: true });
}
if (process.argv.includes('--write')) writeFileSync(join(import.meta.dirname, 'server.md'), `${report.join('\n')}\n`);
