/** What is to be said of the instruments that figures were read with: out of their time, for another sort of quantity, too coarse. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { AstNode } from 'langium';
import { nameOf } from '@thou/shared/dimension/types';
import type { Instrument } from '../bind/binding.ts';
import { figureAtRoot } from '../certainty/decision.ts';
import { Mark } from '../evaluate/value.ts';
import { markAt, marksOf } from '../plan/cells.ts';
import type { Figure } from '../plan/figures.ts';
import { canShow, instrumentNamed, instrumentOf } from '../plan/instruments.ts';
import type { CheckCell, CheckOutcome, PlanProblem } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import type { Slot } from '../schema/schema.ts';
import { sizesInWords } from './in-words.ts';

/** How many of an instrument's steps a tolerance should hold: a figure of the library. Without one nothing is too coarse. */
const finenessName = 'fineness';
const tolerance = 1e-9;

/** A reading that counts, in one cell of its slot. */
interface Reading {
  readonly slot: Slot;
  readonly cell: number;
  readonly figure: Figure;
  readonly instrument: Instrument;
}

export function aboutInstruments(plan: Plan, checks: readonly CheckOutcome[]): readonly PlanProblem[] {
  const slots = plan.given.slotsWithHistory.map((id) => plan.schema.slots[id]!);
  const read = slots.flatMap((slot) => (wasRead(plan, slot) ? readingsOf(plan, slot) : []));
  return [...once(plan, read, outOfTime), ...once(plan, read, ofAnotherSort), ...tooCoarse(plan, checks)];
}

function wasRead(plan: Plan, { id }: Slot): boolean {
  return plan.given.history(id).some(({ source }) => source.layer === 'measured');
}

function readingsOf(plan: Plan, slot: Slot): readonly Reading[] {
  const { sources, value } = plan.valueOf(slot.id, 'measured');
  if (sources === null || value.is !== 'numbers') return [];
  const marks = marksOf(value, axesWithoutLanes(value));
  return Array.from(sources, (speaker, cell): Reading | null => {
    const figure = speaker < 0 || marks[cell] !== Mark.measured ? null : plan.sourceAt(slot.id, speaker);
    const instrument = figure === null ? null : instrumentNamed(plan, figure);
    return instrument === null ? null : { slot, cell, figure: figure!, instrument };
  }).filter((one) => one !== null);
}

type Told = Pick<PlanProblem, 'code' | 'args'>;

/** Each where the instrument is named, and there once. */
function once(
  plan: Plan,
  readings: readonly Reading[],
  tell: (plan: Plan, reading: Reading) => Told | null,
): readonly PlanProblem[] {
  const seen = new Set<AstNode>();
  return readings.flatMap((reading): readonly PlanProblem[] => {
    const told = tell(plan, reading);
    const at = told === null ? null : noteOf(reading);
    if (told === null || at === null || seen.has(at)) return [];
    seen.add(at);
    const { origin } = reading.figure.source;
    const related = [reading.instrument.origin];
    return [{ ...told, severity: 'advice', origin: { uri: origin.uri, at }, related }];
  });
}

/** `with NAME` beside the figure, or in the head of its block. */
function noteOf({ figure, instrument }: Reading): AstNode {
  const { at } = figure.source.origin;
  for (let step: AstNode | undefined = at; step; step = step.$container) {
    const { notes } = step as { readonly notes?: readonly ast.Note[] };
    const note = notes?.find((one) => one.instrument === instrument.name);
    if (note !== undefined) return note;
  }
  return at;
}

function outOfTime(plan: Plan, { figure, instrument }: Reading): Told | null {
  const date = figure.source.date ?? plan.given.blocks[figure.block!]?.date ?? null;
  const { name, expires } = instrument;
  if (date === null || expires === null || date <= expires) return null;
  return { code: 'reading.calibration', args: { instrument: name, expires, date } };
}

/** What was said with a reading stands, whatever it was read with. */
function ofAnotherSort(plan: Plan, { slot, cell, figure, instrument }: Reading): Told | null {
  const { value } = plan.valueOf(slot.id, 'measured');
  const stated = value.is === 'numbers' && value.band !== null && !Number.isNaN(value.band.low.data[cell]!);
  if (stated || canShow(plan, instrument, figure)) return null;
  const is = slot.type.is === 'measure' ? nameOf(slot.type.measure) : '';
  const args = { instrument: instrument.name, path: slot.path, shows: nameOf(instrument.measure!), is };
  return { code: 'reading.instrument', args };
}

function tooCoarse(plan: Plan, checks: readonly CheckOutcome[]): readonly PlanProblem[] {
  const due = figureAtRoot(plan, finenessName);
  if (due === null || due <= 0) return [];
  const seen = new Set<string>();
  return checks.flatMap((check) =>
    check.cells.flatMap((cell): readonly PlanProblem[] => {
      const reading = judgedReading(plan, check, cell);
      const width = cell.low === null || cell.high === null ? Infinity : cell.high - cell.low;
      const step = reading?.instrument.resolution ?? 0;
      const key = `${reading?.slot.id} ${reading?.instrument.name}`;
      if (reading === null || step * due <= width * (1 + tolerance) || seen.has(key)) return [];
      seen.add(key);
      const { slot, figure, instrument } = reading;
      const [steps, span, wanted] = sizesInWords(slot, [step, width, width / due]);
      const args = { instrument: instrument.name, path: slot.path, step: steps!, width: span!, due: wanted! };
      const origin = { uri: figure.source.origin.uri, at: noteOf(reading) };
      return [{ code: 'reading.coarse', severity: 'advice', args, origin, related: [instrument.origin] }];
    }),
  );
}

/** What a check judges was read directly, with this: what is worked out from several readings has no one instrument. */
function judgedReading(plan: Plan, { slot, axes }: CheckOutcome, { places, state }: CheckCell): Reading | null {
  if (slot === null || slot.sort !== 'property' || state === 'not-applicable') return null;
  const { value, sources } = plan.valueOf(slot.id, 'measured');
  if (value.is !== 'numbers' || sources === null) return null;
  const own = value.tensor.axes;
  const cell = own.reduce((at, { id, size }) => at * size + (places[axes.findIndex((axis) => axis.id === id)] ?? 0), 0);
  const figure = markAt(value.tensor.mark, cell) === Mark.measured ? plan.sourceAt(slot.id, sources[cell]!) : null;
  const instrument = figure === null ? null : instrumentOf(plan, figure);
  return instrument === null ? null : { slot, cell, figure: figure!, instrument };
}
