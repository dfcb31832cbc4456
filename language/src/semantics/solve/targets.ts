/** What may be turned to make a check hold: the targets of its rule, which cells of them, and which way each can go. */
import type { Axis } from '../evaluate/value.ts';
import { Mark } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import { markAt } from '../plan/cells.ts';
import { placesOf } from '../plan/labels.ts';
import type { CheckOutcome } from '../plan/outcome.ts';
import { slotsIn } from '../reads.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import type { AdjustTarget, Schema, Slot } from '../schema/schema.ts';

export interface Target {
  readonly slot: Slot;
  readonly axes: readonly Axis[];
  /** The cells that may be turned, with what each is now. */
  readonly from: ReadonlyMap<number, number>;
  readonly even: boolean;
  /** Which way a cut, or a choice, can take it. */
  readonly up: boolean;
  readonly down: boolean;
}

/** Alternatives; each a line of targets that are turned one after the other. */
export function targetsOf(plan: Plan, check: CheckOutcome): readonly (readonly Target[])[] {
  return linesOf(plan, adjustsFor(plan.schema, check));
}

/** Lines of which every target has a figure that can be turned. */
export function linesOf(plan: Plan, adjusts: readonly AdjustTarget[]): readonly (readonly Target[])[] {
  return parted(adjusts.flatMap((one) => turnable(plan, one))).flatMap((line) => {
    const targets = line.map((one) => targetOf(plan, one));
    return targets.some((target) => target === null) ? [] : [targets as readonly Target[]];
  });
}

/** What the build itself expects of a figure is turned by what a rule on the same figure names. */
export function adjustsFor({ rules }: Schema, check: CheckOutcome): readonly AdjustTarget[] {
  if (check.rule !== null) return check.rule.adjust;
  if (check.kind === 'to-size')
    return check.slot === null ? [] : [{ slot: check.slot.id, keys: [], even: false, link: null }];
  const same = rules.find(
    ({ demand, adjust }) =>
      adjust.length > 0 && demand.comparisons.some(({ slot }) => slot !== null && slot === check.slot?.id),
  );
  return same?.adjust ?? [];
}

function parted(adjusts: readonly AdjustTarget[]): readonly (readonly AdjustTarget[])[] {
  const lines: AdjustTarget[][] = [];
  for (const one of adjusts) {
    if (one.link === 'then' && lines.length > 0) lines.at(-1)!.push(one);
    else lines.push([one]);
  }
  return lines;
}

const mostBehind = 4;

/** A figure that is worked out is turned by what it is made of and can be cut, set or bought, the nearest first. */
function turnable({ schema: { slots } }: Plan, adjust: AdjustTarget): readonly AdjustTarget[] {
  if (slots[adjust.slot]!.sort === 'property' || adjust.link === 'then') return [adjust];
  const found = new Set([adjust.slot]);
  for (const id of found) {
    const { sort, formula } = slots[id]!;
    if (sort !== 'property' && formula) for (const read of slotsIn(formula)) found.add(read);
  }
  return [...found]
    .filter((id) => slots[id]!.sort === 'property' && slots[id]!.features.length > 0)
    .slice(0, mostBehind)
    .map((slot, at) => ({ ...adjust, slot, keys: [], link: at === 0 ? adjust.link : 'or' }));
}

/** Null where it is computed, is no quantity, or has no figure yet. */
function targetOf(plan: Plan, { slot, keys, even }: AdjustTarget): Target | null {
  return targetAt(plan, slot, (axes, cell) => keys.every((key) => isNamed(key, axes, cell)), even);
}

/** As `targetOf`, with the cells that may be turned chosen one by one. */
export function targetAt(
  plan: Plan,
  id: SlotId,
  isChosen: (axes: readonly Axis[], cell: number) => boolean,
  even = false,
): Target | null {
  const slot = plan.schema.slots[id]!;
  const { value } = plan.valueOf(id, 'measured');
  if (slot.sort !== 'property' || slot.type.is !== 'measure' || value.is !== 'numbers') return null;
  const axes = axesWithoutLanes(value);
  const from = new Map<number, number>();
  value.tensor.data.forEach((figure, cell) => {
    const isKnown = markAt(value.tensor.mark, cell) < Mark.missing;
    if (isKnown && isChosen(axes, cell)) from.set(cell, figure);
  });
  if (from.size === 0) return null;
  return { slot, axes, from, even, up: !slot.features.includes('falls'), down: !slot.features.includes('grows') };
}

function isNamed({ axis, number, label }: AdjustTarget['keys'][number], axes: readonly Axis[], cell: number): boolean {
  const at = axes.findIndex(({ id }) => id === axis);
  const own = axes[at];
  if (own === undefined) return true;
  const place = placesOf(cell, axes)[at]!;
  return label === null ? own.coordinates[place] === number : own.labels?.[place] === label;
}

/** Cells of the target at the same places as a cell of the check. */
export function cellsBeside(
  { axes, from }: Target,
  check: Pick<CheckOutcome, 'axes'>,
  cell: number,
): readonly number[] {
  const places = placesOf(cell, check.axes);
  return [...from.keys()].filter((one) => {
    const own = placesOf(one, axes);
    return check.axes.every((axis, at) => own[axes.findIndex(({ id }) => id === axis.id)] === places[at]);
  });
}

/** True where every cell of the check has cells of the target of its own. */
export function hasAxesOf({ axes }: Target, check: Pick<CheckOutcome, 'axes'>): boolean {
  return check.axes.length > 0 && check.axes.every(({ id }) => axes.some((axis) => axis.id === id));
}

/** True where something was cut or read: from there it counts. */
export function hasHistory(plan: Plan, slot: SlotId): boolean {
  return plan.valueOf(slot, 'measured').value !== plan.valueOf(slot, 'specified').value;
}
