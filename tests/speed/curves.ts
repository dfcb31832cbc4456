/**
 * What a curve over the turn of the crank for each of sixteen valves costs an edit: the four-cylinder sample as it is, with the curves
 * declared in its own file, and with a check that asks for them. A report, not a test; ratios of one run are what counts.
 */
import { dirname, join } from 'node:path';
import { existsSync, readFileSync } from 'node:fs';
import { Project } from '../../language/src/semantics/project.ts';
import { library } from '../reference/library.ts';
import { samples } from './text.ts';

const uri = join(samples, 'skarn-998.thou');
const warming = 4;
const rounds = 15;
const base = readFileSync(uri, 'utf8');

/** 2 sides × 4 cylinders × 2 valves × 720 crank angles. */
const curves = `
extend ValveSide {
  /// Room between each valve and its piston over the whole turn.
  /// Source: see room-when-open.
  derive room-of-each: Length per cylinder per valve per crank-angle as 0.000 mm =
    room-when-open(room-closed, piston-drop, largest(lift-along + least-lash - lash, 0 mm), valve.angle, valve.cant, pocket-angle, pocket-cant)
}
`;
const asked = `
extend ValveSide {
  rule each-clears: advice {
    when given(closed-depth)
    expect least(room-of-each over crank-angle) >= 0 mm
    because "of each valve, over the whole turn"
    adjust key-advance
  }
}
`;
const edits = {
  'a journal of the crank, that no valve rests on': /(rod-journal: \[33\.99)\d/,
  'the height of a deck, that the valves rest on': /(block\.deck: \[162\.5)\d/,
} as const;

function median(times: readonly number[]): number {
  return [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}

function edited(text: string, figure: RegExp, round: number): string {
  if (!figure.test(text)) throw new Error(`the sample has no ${figure.source}`);
  return text.replace(figure, (_, before: string) => `${before}${round % 10}`);
}

/** One text open in a project of its own: each round a figure is changed and all that is said of the file is made. */
function opened(text: string, figure: RegExp): (round: number) => number {
  let now = text;
  const project = new Project(
    {
      read: (at) => (at === uri ? now : existsSync(at) ? readFileSync(at, 'utf8') : undefined),
      resolve: (from, path) => ({ uri: join(dirname(from), path) }),
    },
    library,
  );
  const look = (): void => {
    const { problems, outcomes } = project.check(uri);
    const wrong = problems.find(({ severity, code }) => severity === 'error' && !code.startsWith('finding'));
    if (wrong) throw new Error(wrong.message);
    if (outcomes.every(({ checks }) => checks.length === 0)) throw new Error('nothing was checked');
  };
  look();
  return (round) => {
    now = edited(text, figure, round);
    const start = performance.now();
    look();
    return performance.now() - start;
  };
}

console.log('| edit | as it is, ms | with the curves, ms | ratio | asked by a check, ms | ratio |');
console.log('| --- | --- | --- | --- | --- | --- |');
for (const [name, figure] of Object.entries(edits)) {
  const desks = [base, base + curves, base + curves + asked].map((text) => opened(text, figure));
  const times = desks.map((): number[] => []);
  for (let round = 0; round < warming + rounds; round++)
    desks.forEach((edit, at) => {
      const time = edit(round);
      if (round >= warming) times[at]!.push(time);
    });
  const [plain, declared, checked] = times.map(median);
  const ratio = (time: number): string => (time / plain!).toFixed(2);
  console.log(
    `| ${name} | ${plain!.toFixed(1)} | ${declared!.toFixed(1)} | ${ratio(declared!)} | ${checked!.toFixed(1)} | ${ratio(checked!)} |`,
  );
}
