// `thou sweep FILE NAME over INPUT FROM..TO`: one figure at many sizes of another, as a table, a drawing or for programs.
import { drawnAlone } from '@thou/shared/drawing/drawing';
import { resultFormat } from '@thou/shared/result/contract';
import type { SweepResult } from '@thou/shared/result/sweep';
import { cellsNamed, locate } from '../report/locate.ts';
import { plainStyle } from '../report/style.ts';
import { sweepChart, sweepText } from '../report/sweep.ts';
import { measureOf } from '../report/units.ts';
import { planBuild } from '../semantics/plan/run.ts';
import { readComparison } from '../semantics/check/question.ts';
import type { Goals } from '../semantics/solve/goals.ts';
import { swept } from '../semantics/solve/sweep.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { readGoals, turned } from './goal.ts';
import { buildsNamed, jobFor } from './job.ts';
import { jsonText } from './json-text.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmlessAll } from './terminal.ts';
import { version } from './version.ts';
import { writeFile } from './written.ts';

const fewest = 2;
const most = 2000;
const usual = 21;

export const sweepCommand: Command = {
  name: 'sweep',
  takes: 'FILE NAME over INPUT FROM..TO',
  summary: 'a figure while another one goes from here to there and nothing else changes',
  note: 'For example: thou sweep press.thou gap over shim.thickness "0.90..1.30 mm" --format svg -o gap.svg',
  options: [
    { name: 'steps', takes: 'COUNT', text: `so many figures, both ends counted (else ${usual})` },
    { name: 'build', takes: 'NAME', text: 'in this build or variant (else the first of the file)' },
    { name: 'format', takes: 'FORMAT', words: ['text', 'json', 'svg'], text: 'a table, for programs, or a drawing' },
    { name: 'output', short: 'o', takes: 'FILE', text: 'write there; a file of that name is replaced' },
    rootOption,
  ],
  run(args, { out, err }) {
    const [file, name, over, input, ...range] = args.given;
    if (file === undefined || name === undefined || over !== 'over' || input === undefined || range.length === 0)
      throw new Refusal('Say it like this: thou sweep FILE NAME over INPUT FROM..TO');
    const { job, path } = jobFor(file, args.value('root'));
    const [outcome] = buildsNamed(job.look(path).result.outcomes, args.value('build'), file);
    if (!outcome) throw new Refusal(`"${file}" has no build.`);
    const plan = planBuild(outcome.binding, undefined, outcome.texts);
    const found = locate(outcome, name);
    if ('problem' in found) throw new Refusal(found.problem);
    const { one } = found;
    if (measureOf(one.slot.type) === null || one.slot.type.is !== 'measure')
      throw new Refusal(`${one.slot.path} is no quantity that could be drawn.`);
    const target = turned(outcome, plan, input);
    const text = `${input} within ${range.join(' ')}`;
    const ends = endsOf(readGoals(job, path, outcome, [{ text, sort: 'keep' }]), text);
    const sizes = evenly(ends, stepsOf(args.value('steps')));
    const cells = cellsNamed(found);
    const chart = sweepChart(outcome, one, cells, target, sizes, swept(plan, one.slot.id, target, sizes));
    const result: SweepResult = {
      format: resultFormat,
      thou: version(),
      build: outcome.binding.name,
      path: one.slot.path,
      over: target.slot.path,
      chart,
    };
    const to = args.value('output');
    const format = args.value('format');
    const style = to === undefined ? out.style : plainStyle;
    const written =
      format === 'json'
        ? jsonText(result)
        : format === 'svg'
          ? drawnAlone({ kind: 'lines', shows: chart })
          : sweepText(harmlessAll(chart), style);
    if (to === undefined) out.write(written);
    else
      writeFile(to, written, {
        source: path,
        holds: `${one.slot.path} over ${target.slot.path}, ${outcome.binding.name}`,
        err,
      });
    return exitCode.holds;
  },
};

function endsOf({ plan, all }: Goals, text: string): readonly [number, number] {
  const { comparison, origin } = all[0]!;
  const { low, high } = readComparison(plan, comparison, origin);
  const [from, to] = [low?.data[0] ?? NaN, high?.data[0] ?? NaN];
  if (!Number.isFinite(from) || !Number.isFinite(to) || from >= to)
    throw new Refusal(`In "${text}": the range needs two ends, the smaller one first, such as 0.90..1.30 mm.`);
  return [from, to];
}

function stepsOf(typed: string | undefined): number {
  const steps = typed === undefined ? usual : Number(typed);
  if (!Number.isInteger(steps) || steps < fewest || steps > most)
    throw new Refusal(`The option --steps takes a whole number from ${fewest} to ${most}, not "${typed}".`);
  return steps;
}

function evenly([from, to]: readonly [number, number], count: number): number[] {
  return Array.from({ length: count }, (_, at) => from + ((to - from) * at) / (count - 1));
}
