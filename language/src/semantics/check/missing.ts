/** What is missing for a check, and what it would gain from being measured. */
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import { placeName } from '../plan/axes.ts';
import { marksOf, sizeOf } from '../plan/cells.ts';
import type { MissingInput } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import type { Slot } from '../schema/schema.ts';
import { reach } from './reach.ts';
import type { Reached } from './reach.ts';

type From = { readonly axes: readonly Axis[]; readonly mask: Uint8Array };

/** Cells without a figure, down to those that nothing computes. */
export function missingUnder(plan: Plan, trace: readonly number[], from: From): readonly MissingInput[] {
  const reached = reach(plan, trace, from, (mark) => mark === Mark.missing);
  const ends = reached.filter((one) => isEnd(plan, one, reached));
  return ends
    .flatMap((one) => inputsOf(plan, one, () => true))
    .sort(bySlotAndCell)
    .filter(firstOfItsKind);
}

/** Measurable cells that a check rests on and that are only specified, only ordered, or missing. */
export function unmeasuredUnder(plan: Plan, trace: readonly number[], from: From): readonly MissingInput[] {
  const reached = reach(plan, trace, from, (mark) => mark > Mark.measured && mark < Mark.absent);
  return reached
    .filter(({ slot }) => plan.schema.slots[slot]!.measurable)
    .flatMap((one) => inputsOf(plan, one, (cell) => isOwnFigure(one, cell) || isMissingEnd(plan, one, reached, cell)))
    .sort(bySlotAndCell)
    .filter(firstOfItsKind);
}

function isOwnFigure({ node, marks }: Reached, cell: number): boolean {
  const mark = marks[cell]!;
  return (node.sources?.[cell] ?? -1) >= 0 && (mark === Mark.specified || mark === Mark.ordered);
}

function isMissingEnd(plan: Plan, one: Reached, reached: readonly Reached[], cell: number): boolean {
  return one.marks[cell] === Mark.missing && isEnd(plan, one, reached);
}

/** Nothing below it is missing: it is the thing itself that has no figure. */
function isEnd(plan: Plan, one: Reached, reached: readonly Reached[]): boolean {
  if (!one.mask.includes(1)) return false;
  const below = new Set(one.node.trace);
  const missingBelow = reached.some(
    (other) =>
      other !== one &&
      other.slot !== one.slot &&
      other.mask.includes(1) &&
      below.has(plan.keyOf(other.slot, other.moment)),
  );
  const slot = plan.schema.slots[one.slot]!;
  const unsized = slot.axes.some((id) => !plan.schema.axes[id]!.open && plan.axes.known(id) === null);
  const bareBelow = reached.some(
    (other) => other !== one && other.slot === one.slot && other.moment.bare && !one.moment.bare,
  );
  return !missingBelow && !unsized && !bareBelow;
}

function inputsOf(plan: Plan, one: Reached, test: (cell: number) => boolean): readonly MissingInput[] {
  const slot = plan.schema.slots[one.slot]!;
  const before = staleCells(plan, slot, one);
  const inputs: MissingInput[] = [];
  one.mask.forEach((wanted, cell) => {
    if (wanted === 0 || !test(cell)) return;
    inputs.push({
      path: slot.path,
      slot: slot.id,
      cell,
      label: labelOf(plan, slot, cell, one.axes),
      why: one.marks[cell] === Mark.missing ? (one.node.why[0] ?? null) : null,
      stale: before[cell] === 1,
    });
  });
  return inputs;
}

/** Cells with a reading that a later cut has overtaken. */
function staleCells(plan: Plan, slot: Slot, one: Reached): Uint8Array {
  if (slot.measuredBy === null && plan.given.history(slot.id).length === 0) return new Uint8Array(sizeOf(one.axes));
  const before = marksOf(plan.valueOf(slot.id, 'before').value, one.axes);
  const now = marksOf(plan.valueOf(slot.id, 'measured').value, one.axes);
  return before.map((mark, cell) => (mark === Mark.measured && now[cell] !== Mark.measured ? 1 : 0));
}

/** `row[3].width`: places stand behind the mount or property whose axis they are on. */
export function labelOf(plan: Plan, slot: Slot, cell: number, axes: readonly Axis[]): string {
  const places = placesOf(cell, axes);
  const parts: string[] = [];
  let done = 0;
  const push = (name: string, count: number): void => {
    const own = axes.slice(done, done + count).map((axis, at) => placeName(axis, places[done + at]!));
    done += own.length;
    parts.push(own.length === 0 ? name : `${name}[${own.join(', ')}]`);
  };
  for (const mount of mountsTo(plan, slot)) if (mount.path !== '') push(mount.name, mount.axes.length - done);
  push(slot.name, axes.length - done);
  return parts.join('.');
}

function mountsTo(plan: Plan, slot: Slot): readonly Plan['schema']['mounts'][number][] {
  const chain: Plan['schema']['mounts'][number][] = [];
  for (let at: number | null = slot.mount; at !== null; at = plan.schema.mounts[at]!.parent)
    chain.unshift(plan.schema.mounts[at]!);
  return chain;
}

/** Place on each axis, from 0. */
export function placesOf(cell: number, axes: readonly Axis[]): readonly number[] {
  const places: number[] = [];
  for (let at = axes.length - 1, left = cell; at >= 0; at--) {
    const { size } = axes[at]!;
    places.unshift(left % size);
    left = Math.floor(left / size);
  }
  return places;
}

function bySlotAndCell(a: MissingInput, b: MissingInput): number {
  return a.slot - b.slot || a.cell - b.cell;
}

function firstOfItsKind(one: MissingInput, at: number, all: readonly MissingInput[]): boolean {
  const before = all[at - 1];
  return before === undefined || before.slot !== one.slot || before.cell !== one.cell;
}
