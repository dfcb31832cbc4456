/**
 * 100,000 trials of the V8 sample: loops made from the plan, the interpreter in lanes, for a part of the figures a loop written by hand that
 * does the same arithmetic on the same drawn columns, and for the whole engine a loop over trials as a person would write it (`by-hand.ts`). A report, not a test: run it with `npx node tests/speed/monte-carlo.ts`.
 * Ratios within one run are what counts.
 */
import { compile } from '../../language/src/semantics/certainty/compiled/compile.ts';
import type { Quantity } from '../../language/src/semantics/certainty/compiled/compile.ts';
import { Draws } from '../../language/src/semantics/certainty/draws.ts';
import { simulated } from '../../language/src/semantics/certainty/monte-carlo.ts';
import { planBuild } from '../../language/src/semantics/plan/run.ts';
import { countsNow } from '../../language/src/semantics/plan/unsure.ts';
import { runSample } from '../reference/run.ts';
import { ByHand } from './by-hand.ts';

const trials = 100_000;
const block = 1000;
const rounds = 7;
const wholeRounds = 3;

const { outcome } = runSample('tarn-427.thou').build('tarn-427');
const plan = planBuild(outcome.binding, undefined, outcome.texts);
const slotOf = (path: string): number => plan.schema.slotAt.get(path)!;
const figures = (path: string): Float64Array => {
  const { value } = plan.valueOf(slotOf(path), 'measured');
  if (value.is !== 'numbers') throw new Error(path);
  return value.tensor.data;
};
const draws = new Draws(plan.sensitivities().sources(), 1);
// as measured: what is written by hand reads nothing from before
const drawnNow = draws.cells.map((one, at) => ({ ...one, column: at })).filter(countsNow);
const columnOf = new Map(drawnNow.map(({ slot, cell, column }) => [`${slot} ${cell}`, column]));

function median(times: number[]): number {
  return times.sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}

// The slice that is written by hand: a column, or the same figure in every trial where nothing is unsure about it.
const inputs = (path: string, drawn: readonly Float64Array[]): Float64Array[] =>
  [...figures(path)].map((figure, cell) => {
    const at = columnOf.get(`${slotOf(path)} ${cell}`);
    return at === undefined ? new Float64Array(block).fill(figure) : drawn[at]!;
  });

const results = ['block.bore', 'swept-volume', 'deck-clearance', 'quench', 'deck-volume', 'clearance-volume'];
const paths = [...results, 'compression', 'piston-to-wall', 'rod-clearance'];
const cylinders = 8;
const constant = {
  travel: figures('piston-travel'),
  pinAtTop: figures('pin-at-top'),
  height: figures('piston.compression-height'),
  gasket: figures('head-gasket.volume'),
  thickness: figures('head-gasket.thickness'),
  crown: figures('crown-volume'),
  along: figures('layout.along-bank'),
  bank: figures('layout.bank-of'),
  pin: figures('layout.crankpin'),
  shell: figures('rod.shell'),
};

function byHand(drawn: readonly Float64Array[], out: readonly (readonly Float64Array[])[]): void {
  const reading = inputs('block.bore-reading', drawn);
  const deckHeight = inputs('block.deck-height', drawn);
  const chamber = inputs('head.chamber', drawn);
  const skirt = inputs('piston.skirt', drawn);
  const housing = inputs('rod.big-end-housing', drawn);
  const journal = inputs('crank.rod-journal', drawn);
  const { travel, pinAtTop, height, gasket, thickness, crown, along, bank, pin, shell } = constant;
  const quarter = Math.PI / 4;
  for (let k = 0; k < cylinders; k++) {
    const at = bank[k]!;
    const r = reading.slice(k * 6, k * 6 + 6);
    const [r0, r1, r2, r3, r4, r5] = [r[0]!, r[1]!, r[2]!, r[3]!, r[4]!, r[5]!];
    const [front, rear] = [deckHeight[at * 2]!, deckHeight[at * 2 + 1]!];
    const [c, s, h, j] = [chamber[k]!, skirt[k]!, housing[k]!, journal[pin[k]!]!];
    const [o0, o1, o2, o3, o4] = [out[0]![k]!, out[1]![k]!, out[2]![k]!, out[3]![k]!, out[4]![k]!];
    const [o5, o6, o7, o8] = [out[5]![k]!, out[6]![k]!, out[7]![k]!, out[8]![k]!];
    const [rest, share, shells] = [1 - along[k]!, along[k]!, shell[k * 2]! + shell[k * 2 + 1]!];
    const [stroke, top, high, over, thick, dish] = [
      travel[k]!,
      pinAtTop[k]!,
      height[k]!,
      gasket[at]!,
      thickness[at]!,
      crown[k]!,
    ];
    for (let t = 0; t < block; t++) {
      const bore = (r0[t]! + r1[t]! + r2[t]! + r3[t]! + r4[t]! + r5[t]!) / 6;
      const area = quarter * (bore * bore);
      const swept = area * stroke;
      const deckClearance = front[t]! * rest + rear[t]! * share - top - high;
      const deckVolume = area * deckClearance;
      const clearance = c[t]! + over + deckVolume + dish;
      o0[t] = bore;
      o1[t] = swept;
      o2[t] = deckClearance;
      o3[t] = deckClearance + thick;
      o4[t] = deckVolume;
      o5[t] = clearance;
      o6[t] = (swept + clearance) / clearance;
      o7[t] = bore - s[t]!;
      o8[t] = h[t]! - shells - j[t]!;
    }
  }
}

const blank = (cells: number): Float64Array[] => Array.from({ length: cells }, () => new Float64Array(block));
const drawnOnce = draws.next(block);
const slice = compile(
  plan,
  draws.cells,
  paths.map((path) => ({ slot: slotOf(path) })),
)!;
const [hand, made] = [paths.map(() => blank(cylinders)), paths.map(() => blank(cylinders))];

function timed(task: () => void): number {
  const start = performance.now();
  for (let done = 0; done < trials; done += block) task();
  return performance.now() - start;
}

const times: Record<'hand' | 'made' | 'drawing', number[]> = { hand: [], made: [], drawing: [] };
for (let round = 0; round < rounds; round++) {
  times.hand.push(timed(() => byHand(drawnOnce, hand)));
  times.made.push(timed(() => slice.run(drawnOnce, block, made)));
  times.drawing.push(timed(() => draws.next(block)));
}
let worst = 0;
hand.forEach((cells, which) =>
  cells.forEach((column, cell) =>
    column.forEach((due, trial) => {
      worst = Math.max(worst, Math.abs(made[which]![cell]![trial]! / due - 1));
    }),
  ),
);

// All derived figures that move and that loops can follow
const derived: Quantity[] = plan.schema.slots.flatMap(({ id, sort }) =>
  sort === 'derive' && plan.valueOf(id, 'measured').value.is === 'numbers' ? [{ slot: id }] : [],
);
const start = performance.now();
const first = compile(plan, draws.cells, derived)!;
const compiling = performance.now() - start;
const moving = derived.filter((_, at) => first.traced[at]?.refs.some((ref) => ref > 1) === true);
const whole = compile(plan, draws.cells, moving)!;
const into = whole.traced.map((cells) => blank(cells!.refs.length));
whole.run(drawnOnce, block, into);
const wholeTime = timed(() => whole.run(drawnOnce, block, into));
const fewTrials = 4000;
const lanesStart = performance.now();
simulated(plan, moving, { trials: fewTrials, seed: 1, how: 'interpreted' });
const lanesTime = ((performance.now() - lanesStart) * trials) / fewTrials;

// The same derived figures, as far as a person would write them down, one trial after the other
const drawnColumns = new Map<number, Map<number, number>>();
drawnNow.forEach(({ slot, cell, column }) => {
  drawnColumns.set(slot, (drawnColumns.get(slot) ?? new Map<number, number>()).set(cell, column));
});
const { clock } = plan;
const movingSlots = new Set(
  plan.schema.slots.flatMap(({ id }) => {
    const under = plan.under([plan.keyOf(id, clock.at('measured'))]);
    return [...under].some((key) => key >= 0 && drawnColumns.has(clock.slotOf(key))) ? [id] : [];
  }),
);
const byPerson = new ByHand(plan, drawnColumns, movingSlots);
const both = moving.filter((one) => 'slot' in one && byPerson.canWrite(one.slot));
const written = byPerson.write(both.map((one) => ('slot' in one ? one.slot : -1)));
const wholeMade = compile(plan, draws.cells, both)!;
const wholeInto = wholeMade.traced.map((cells) => blank(cells!.refs.length));
const rows = new Float64Array(written.cells * block);
written.run(drawnOnce, block, rows);
wholeMade.run(drawnOnce, block, wholeInto);
let apart = 0;
wholeInto.flat().forEach((column, cell) =>
  column.forEach((due, trial) => {
    const found = rows[trial * written.cells + cell]!;
    const off =
      Number.isNaN(due) || Number.isNaN(found)
        ? Object.is(due, found)
          ? 0
          : 1
        : Math.abs(due - found) / Math.max(1e-12, Math.abs(due));
    apart = Math.max(apart, off);
  }),
);
const wholeTimes: Record<'person' | 'made', number[]> = { person: [], made: [] };
for (let round = 0; round < wholeRounds; round++) {
  wholeTimes.person.push(timed(() => written.run(drawnOnce, block, rows)));
  wholeTimes.made.push(timed(() => wholeMade.run(drawnOnce, block, wholeInto)));
}

const [byHandTime, madeTime] = [median(times.hand), median(times.made)];
const ms = (time: number): string => `${time.toFixed(0)} ms`;
console.log(`${trials} trials, medians of ${rounds}, figures agree to ${worst.toExponential(1)}`);
console.log(`drawing ${draws.sources.length} sources: ${ms(median(times.drawing))}`);
console.log(
  `stack-up of 8 cylinders, ${paths.length * cylinders} figures: by hand ${ms(byHandTime)}, loops made from the plan ${ms(madeTime)}: ${((100 * byHandTime) / madeTime).toFixed(0)} % of the speed by hand`,
);
console.log(
  `whole engine, ${both.length} derived values, ${written.cells} figures: written as a person would ${ms(median(wholeTimes.person))}, loops made from the plan ${ms(median(wholeTimes.made))}: ${((100 * median(wholeTimes.person)) / median(wholeTimes.made)).toFixed(0)} % of that speed; figures agree to ${apart.toExponential(1)}`,
);
console.log(
  `${moving.length} derived values, ${into.flat().length} figures: made in ${ms(compiling)}, run in ${ms(wholeTime)}; the interpreter in lanes about ${ms(lanesTime)} (from ${fewTrials} trials): ${(lanesTime / wholeTime).toFixed(1)} times as long`,
);
console.log(
  `left to the interpreter: ${derived.length - first.traced.filter((one) => one !== null).length} derived values of ${derived.length}`,
);
