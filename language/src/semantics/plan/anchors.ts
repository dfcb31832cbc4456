/**
 * Readings of derived values. A reading is the value while nothing below it was cut later; afterwards, in variants and
 * with other inputs, the formula is carried along by what the reading differed from it.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis, Tensor, Value } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import type { Slot } from '../schema/schema.ts';
import { Cells, along, markAt, sizeOf } from './cells.ts';
import { readingsOf } from './history.ts';
import type { Entry } from './history.ts';
import type { Laid } from './layers.ts';
import { allCells, projectGreatest } from './masks.ts';
import type { Moment } from './moments.ts';
import { slotsIn } from '../reads.ts';
import { asRead, Layout, overBare } from './layout.ts';
import { axesOf } from './workings.ts';
import type { Workings } from './workings.ts';

export function anchored(workings: Workings, slot: Slot, moment: Moment, axes: readonly Axis[]): Laid {
  const layout = new Layout(slot, axes);
  if (moment.view !== 'ordered') {
    const cut = lastCutBelow(workings, slot.id, moment.upTo);
    for (const entry of readingsOf(workings, slot, 0, moment.upTo))
      layReading(workings, slot, moment, layout, entry, cut);
  }
  return overBare(workings, slot, moment, layout);
}

function layReading(
  workings: Workings,
  slot: Slot,
  moment: Moment,
  layout: Layout,
  entry: Entry,
  cut: Int32Array,
): void {
  const foreign = workings.carriesReadings || depthOf(workings, slot, entry) < workings.given.depth;
  const overtaken = (cell: number): boolean => entry.block < cut[cell]!;
  if (moment.view === 'before') {
    // what a later cut has overtaken lives here; cells never cut have the value
    layout.lay(entry, (cell) => overtaken(cell) || (cut[cell]! < 0 && !foreign), asRead);
    if (foreign) layCarried(workings, slot, moment, layout, entry, (cell) => cut[cell]! < 0);
    return;
  }
  if (!foreign) layout.lay(entry, (cell) => !overtaken(cell), asRead);
  layCarried(workings, slot, moment, layout, entry, (cell) => foreign || overtaken(cell));
}

function depthOf(workings: Workings, slot: Slot, entry: Entry): number {
  const before = workings.given.specified(slot.id).length;
  return workings.given.history(slot.id)[entry.speaker - before]!.depth;
}

/** Formula now, and what the reading differed from the formula at the values at the end of its block. */
function layCarried(
  workings: Workings,
  slot: Slot,
  moment: Moment,
  layout: Layout,
  entry: Entry,
  test: (cell: number) => boolean,
): void {
  const wanted = allCells(entry.mask, layout.size).map((one, cell) => (one === 1 && test(cell) ? 1 : 0));
  if (!wanted.includes(1)) return;
  const now = workings.node(slot.id, workings.clock.at(moment.view, moment.upTo, true)).value;
  const then = workings.formulaThen(slot.id, depthOf(workings, slot, entry), entry.block + 1);
  const value = carried(now, then, entry.value, axesOf(workings, slot));
  layout.lay({ ...entry, mask: wanted, value }, null, asCarried);
}

const asCarried = (mark: number): number => (mark === Mark.absent || mark === Mark.missing ? mark : Mark.carriedOver);

function carried(now: Value, then: Value, reading: Value, axes: readonly Axis[]): Value {
  const missing: Value = new Cells('numbers', axes).value();
  if (now.is !== 'numbers' || then.is !== 'numbers' || reading.is !== 'numbers') return missing;
  const lanes = now.tensor.axes.find((axis) => axis.id < 0);
  const all = lanes === undefined ? axes : [lanes, ...axes];
  const [formula, formulaThen, read] = [now, then, reading].map(({ tensor }) => along(tensor, all)) as [
    Tensor,
    Tensor,
    Tensor,
  ];
  const mark = new Uint8Array(sizeOf(all));
  const data = formula.data.map((x, cell) => {
    const worst = Math.max(markAt(formula.mark, cell), markAt(formulaThen.mark, cell), markAt(read.mark, cell));
    mark[cell] = worst >= Mark.missing ? Mark.missing : Mark.carriedOver;
    if (mark[cell] === Mark.missing) return NaN;
    return x === formulaThen.data[cell] ? read.data[cell]! : x + (read.data[cell]! - formulaThen.data[cell]!);
  });
  return { is: 'numbers', tensor: { axes: all, data, mark }, band: null };
}

/**
 * The last block before `upTo` that cut anything that a cell may be made of; -1 where none did. Places are followed along
 * common axes: where a formula gathers along another, all of it counts.
 */
export function lastCutBelow(workings: Workings, slot: SlotId, upTo: number): Int32Array {
  const done = new Map<SlotId, Int32Array>();
  const visit = (id: SlotId): Int32Array => {
    const known = done.get(id);
    if (known !== undefined) return known;
    const here = workings.schema.slots[id]!;
    const axes = axesOf(workings, here);
    const last = new Int32Array(sizeOf(axes)).fill(-1);
    done.set(id, last);
    for (const figure of workings.given.history(id)) {
      if (figure.source.layer !== 'machining' || figure.block! >= upTo) continue;
      const mask = workings.maskOf(figure);
      last.forEach((_, cell) => {
        if (mask === null || mask[cell] === 1) last[cell] = Math.max(last[cell]!, figure.block!);
      });
    }
    for (const below of readBy(workings, here)) {
      const from = axesOf(workings, workings.schema.slots[below]!);
      projectGreatest(visit(below), from, axes).forEach((block, cell) => (last[cell] = Math.max(last[cell]!, block)));
    }
    return last;
  };
  return visit(slot);
}

/** What a slot may be made of: a default counts unless every cell has a figure of its own. */
function readBy(workings: Workings, slot: Slot): readonly SlotId[] {
  const below = new Set<SlotId>(slot.changedBy);
  const figures = workings.given.specified(slot.id);
  const covered = figures.some((figure) => workings.maskOf(figure) === null);
  if (slot.formula !== null && !covered) for (const id of slotsIn(slot.formula)) below.add(id);
  for (const { source } of figures) for (const id of slotsIn(source.value)) below.add(id);
  return [...below];
}

/** Every slot that a slot may be made of, down to those that nothing is behind. */
export function madeOf(workings: Workings, slot: Slot): readonly SlotId[] {
  const all = new Set<SlotId>([slot.id]);
  for (const id of all) for (const below of readBy(workings, workings.schema.slots[id]!)) all.add(below);
  return [...all];
}
