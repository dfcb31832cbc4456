/**
 * Readings so far from what was given that the unit or the point must have slipped (of what has a tolerance its own check tells), and
 * lists that look copied.
 */
import { isNone } from '@thou/shared/dimension/dimension';
import type { Unit } from '@thou/shared/unit/unit';
import { Mark } from '../evaluate/value.ts';
import type { Expr } from '../ir.ts';
import { markAt } from '../plan/cells.ts';
import type { Figure } from '../plan/figures.ts';
import { labelOf } from '../plan/labels.ts';
import type { PlanProblem } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { Speaker } from '../plan/workings.ts';
import type { Slot } from '../schema/schema.ts';
import { figureInWords } from './in-words.ts';

/** How near a reading in the other unit, or with the point elsewhere, must come to what was given. */
const near = 0.05;
/** Nearer to each other than this two units are not mistaken for each other without a trace of doubt. */
const apart = 2;
const pointMoves = [10, 100, 1000];

export function slipsOfReadings(plan: Plan): readonly PlanProblem[] {
  return plan.given.slotsWithHistory.flatMap((id) => {
    const slot = plan.schema.slots[id]!;
    const isRead = slot.sort === 'property' && plan.given.history(id).some(({ source }) => source.layer === 'measured');
    return isRead ? [...slipsOf(plan, slot), ...alikeIn(plan, slot)] : [];
  });
}

function slipsOf(plan: Plan, slot: Slot): readonly PlanProblem[] {
  const { value, sources } = plan.valueOf(slot.id, 'measured');
  const ordered = plan.valueOf(slot.id, 'ordered').value;
  if (value.is !== 'numbers' || ordered.is !== 'numbers' || sources === null) return [];
  const axes = axesWithoutLanes(value);
  const told = new Set<Figure>();
  return Array.from(value.tensor.data, (read, cell): PlanProblem | null => {
    const asked = ordered.tensor.data[cell] ?? NaN;
    const hasTolerance = ordered.band !== null && !Number.isNaN(ordered.band.low.data[cell]!);
    const figure = plan.sourceAt(slot.id, sources[cell] ?? Speaker.none);
    if (figure === null || hasTolerance || told.has(figure)) return null;
    if (markAt(value.tensor.mark, cell) !== Mark.measured) return null;
    const code = slipBetween(slot, read, asked);
    if (code === null) return null;
    told.add(figure);
    const args = {
      path: labelOf(plan.schema, slot, cell, axes),
      reading: figureInWords(slot, read),
      asked: figureInWords(slot, asked),
    };
    return { code, severity: 'warning', args, origin: figure.source.origin, related: [] };
  }).filter((problem) => problem !== null);
}

/** So many places that are alike to the last digit make one ask whether each was read. */
const many = 4;

/** A list that was written out, each figure of it the same. */
function alikeIn(plan: Plan, slot: Slot): readonly PlanProblem[] {
  const { sources } = plan.valueOf(slot.id, 'measured');
  const hasDimension = slot.type.is === 'measure' && !isNone(slot.type.measure.dimension);
  if (sources === null || !hasDimension) return [];
  const figures = new Set(Array.from(sources, (speaker) => plan.sourceAt(slot.id, speaker)));
  return [...figures].flatMap((figure): readonly PlanProblem[] => {
    const count = figure?.source.layer === 'measured' ? alikeCount(figure.source.value) : 0;
    if (figure === null || count < many) return [];
    const args = { path: slot.path, count: String(count) };
    return [{ code: 'reading.alike', severity: 'hint', args, origin: figure.source.origin, related: [] }];
  });
}

/** Of how many figures a list is made that are all the same; 0 where they differ, or where some are not written out. */
function alikeCount(value: Expr): number {
  if (value.op === 'toleranced') return alikeCount(value.nominal);
  if (value.op !== 'list' || value.others !== null) return 0;
  const [first, ...rest] = value.entries.map((entry) => (entry.value.op === 'constant' ? entry.value.value : NaN));
  return first !== undefined && rest.every((one) => one === first) ? value.entries.length : 0;
}

function slipBetween(slot: Slot, read: number, asked: number): 'reading.unit' | 'reading.point' | null {
  const times = read / asked;
  if (!Number.isFinite(times) || times <= 0) return null;
  const units = slot.shown.flatMap(({ unit }) => (unit === null || unit.offset !== 0 ? [] : [unit]));
  if (unitTimes(units).some((factor) => isAbout(times, factor))) return 'reading.unit';
  return pointMoves.some((factor) => isAbout(times, factor) || isAbout(times, 1 / factor)) ? 'reading.point' : null;
}

/** By how many times a figure is another size with one unit of these for another. */
function unitTimes(units: readonly Unit[]): number[] {
  const all = units.flatMap((one) => units.map((other) => one.factor / other.factor));
  return all.filter((times) => times > apart || times < 1 / apart);
}

function isAbout(times: number, factor: number): boolean {
  return Math.abs(times / factor - 1) <= near;
}
