/** How long a file takes to be checked, against bare parsing of the same text in the same run. Ratios are what counts. */
import { dirname, join } from 'node:path';
import { existsSync, readFileSync } from 'node:fs';
import { parseFile } from '../../language/src/grammar/file.ts';
import { Project } from '../../language/src/semantics/project.ts';
import { library } from '../reference/library.ts';
import { fileOf, samples } from './text.ts';

const uri = join(samples, 'speed.thou');
const rounds = 9;

function median(times: number[]): number {
  return times.sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}

function timed(task: () => void): number {
  const start = performance.now();
  task();
  return performance.now() - start;
}

function desk(text: { now: string }): Project {
  return new Project(
    {
      read: (at) => (at === uri ? text.now : existsSync(at) ? readFileSync(at, 'utf8') : undefined),
      resolve: (from, path) => ({ uri: join(dirname(from), path) }),
    },
    library,
  );
}

/** One figure in the middle of the file changed in its last place. */
function withOtherFigure(text: string, round: number): string {
  const figures = [...text.matchAll(/\d+\.\d{3,}/g)];
  const figure = figures[Math.floor(figures.length / 2)]!;
  return (
    text.slice(0, figure.index) +
    figure[0].slice(0, -1) +
    String(round % 10) +
    text.slice(figure.index + figure[0].length)
  );
}

console.log('| lines | parse alone, ms | check afresh, ms | ratio | one figure changed, ms | of a fresh check |');
console.log('| --- | --- | --- | --- | --- | --- |');
for (const lines of [100, 1_000]) {
  const base = fileOf(lines);
  const [parse, fresh, edit]: [number[], number[], number[]] = [[], [], []];
  for (let round = 0; round < rounds; round++) {
    const text = { now: base };
    parse.push(timed(() => parseFile(uri, `${base}\n// ${round}`)));
    const project = desk(text);
    fresh.push(timed(() => project.check(uri)));
    text.now = withOtherFigure(base, round);
    edit.push(timed(() => project.check(uri)));
  }
  const [a, b, c] = [median(parse), median(fresh), median(edit)];
  console.log(
    `| ${base.split('\n').length} | ${a.toFixed(1)} | ${b.toFixed(1)} | ${(b / a).toFixed(1)} | ${c.toFixed(1)} | ${(c / b).toFixed(2)} |`,
  );
}
