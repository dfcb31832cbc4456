/**
 * Which one figure stands behind several findings: each cell that was cut or read is put back to what was specified, in
 * lanes beside each other, and what then holds is listed under it.
 */
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { SlotId } from '../ir.ts';
import { along, lanesId, markAt, sizeOf } from '../plan/cells.ts';
import { labelOf } from '../plan/labels.ts';
import type { Cause } from '../plan/outcome.ts';
import type { Override } from '../plan/overrides.ts';
import type { Plan } from '../plan/run.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { layerOf } from '../plan/sources.ts';
import { Speaker } from '../plan/workings.ts';
import type { Judged } from './judge.ts';
import { difference, movementOf, readComparison, tensorOf, uncertaintyOf } from './question.ts';
import type { Question, Side } from './question.ts';
import { reach } from './reach.ts';
import { isAbove, isBelow } from './verdict.ts';

interface Candidate {
  readonly slot: SlotId;
  readonly cell: number;
  readonly now: number;
  readonly specified: number;
}
export interface Findings {
  readonly judged: Judged;
  readonly id: string;
  /** Cells that are out of limits or at risk. */
  readonly cells: readonly number[];
}

const lanesAtOnce = 64;

export function causesOf(plan: Plan, findings: readonly Findings[]): readonly Cause[] {
  const candidates = candidatesFor(plan, findings);
  const cleared = candidates.map((): string[] => []);
  for (let start = 0; start < candidates.length; start += lanesAtOnce) {
    const some = candidates.slice(start, start + lanesAtOnce);
    const lanes = plan.withInputs(putBack(some), some.length);
    for (const finding of findings)
      some.forEach((candidate, lane) => {
        if (clears(lanes, finding, candidate, lane)) cleared[start + lane]!.push(finding.id);
      });
  }
  const found = candidates
    .map((candidate, at) => ({ ...candidate, checks: cleared[at]! }))
    .filter(({ checks }) => checks.length > 0);
  found.sort((a, b) => b.checks.length - a.checks.length || a.slot - b.slot || a.cell - b.cell);
  return found.map(({ slot, cell, checks }, id) => {
    const node = plan.valueOf(slot, 'measured');
    const figure = plan.sourceAt(slot, node.sources?.[cell] ?? Speaker.none);
    const label = labelOf(plan.schema, plan.schema.slots[slot]!, cell, axesWithoutLanes(node.value));
    return { id, slot, cell, label, origin: figure?.source.origin ?? null, checks };
  });
}

/** Properties cut or read to something else than was specified, on which a finding rests. */
function candidatesFor(plan: Plan, findings: readonly Findings[]): readonly Candidate[] {
  const found = new Map<string, Candidate>();
  const starts = findings.map(({ judged, cells }) => {
    const mask = new Uint8Array(sizeOf(judged.axes));
    for (const cell of cells) mask[cell] = 1;
    return { trace: judged.trace, exprs: judged.exprs, axes: judged.axes, mask };
  });
  for (const one of reach(plan, starts, (mark) => mark < Mark.missing)) {
    const { value } = one.node;
    const isProperty = plan.schema.slots[one.slot]!.sort === 'property';
    if (one.moment.view !== 'measured' || one.moment.bare || value.is !== 'numbers' || !isProperty) continue;
    const specified = plan.valueOf(one.slot, 'specified').value;
    if (specified === value || specified.is !== 'numbers') continue;
    value.tensor.data.forEach((now, cell) => {
      const layer =
        one.startsAt(cell).length === 0 ? null : layerOf(plan, one.slot, one.node.sources?.[cell] ?? Speaker.none);
      if (layer !== 'machining' && layer !== 'measured') return;
      const then = specified.tensor.data[cell]!;
      if (markAt(specified.tensor.mark, cell) >= Mark.missing || now === then) return;
      found.set(`${one.slot} ${cell}`, { slot: one.slot, cell, now, specified: then });
    });
  }
  return [...found.values()].sort((a, b) => a.slot - b.slot || a.cell - b.cell);
}

function putBack(candidates: readonly Candidate[]): readonly Override[] {
  const bySlot = new Map<SlotId, Map<number, Float64Array>>();
  candidates.forEach(({ slot, cell, now, specified }, lane) => {
    const cells = bySlot.get(slot) ?? new Map<number, Float64Array>();
    const figures = new Float64Array(candidates.length).fill(now);
    figures[lane] = specified;
    cells.set(cell, figures);
    bySlot.set(slot, cells);
  });
  return [...bySlot].map(([slot, cells]) => ({ slot, view: 'measured', cells }));
}

/** True where everything that was found at fault holds in this lane. */
function clears(lanes: Plan, { judged, cells }: Findings, candidate: Candidate, lane: number): boolean {
  const { draft, axes } = judged;
  if (draft.kind === 'to-size')
    return draft.slot === candidate.slot && cells.every((cell) => cell === candidate.cell) && inside(judged, candidate);
  return cells.every((cell) => {
    if (draft.when !== null && laneFigure(tensorOf(lanes.watch(draft.when).value), axes, cell, lane) === 0) return true;
    if (draft.flag !== null && laneFigure(tensorOf(lanes.watch(draft.flag).value), axes, cell, lane) !== 1)
      return false;
    return judged.asked[cell]!.every(({ question, replaced }) =>
      holdsIn(lanes, question, replaced !== null, judged, cell, lane),
    );
  });
}

function inside(judged: Judged, { cell, specified }: Candidate): boolean {
  const { low, high } = judged.asked[cell]![0]!.question;
  return !isBelow(specified, low, cell) && !isAbove(specified, high, cell);
}

function holdsIn(
  lanes: Plan,
  question: Question,
  replaced: boolean,
  { draft, axes }: Judged,
  cell: number,
  lane: number,
): boolean {
  const read = readComparison(lanes, question.comparison!, draft.origin);
  const value = laneFigure(tensorOf(read.value), axes, cell, lane);
  if (Number.isNaN(value)) return false;
  const shift = value - question.value.data[cell]!;
  const holds = (side: Side, tensor: typeof read.low, towards: 1 | -1): boolean => {
    const here =
      replaced || tensor === null
        ? side
        : { ...side, data: side.data.with(cell, laneFigure(tensor, axes, cell, lane)) };
    if (towards > 0 ? isBelow(value, here, cell) : isAbove(value, here, cell)) return false;
    const limit = here.data[cell]!;
    if (!Number.isFinite(limit)) return !Number.isNaN(limit);
    const room = difference(movementOf(question.value, axes, cell), movementOf(side, axes, cell));
    const u = uncertaintyOf(room);
    const middle = room.middle + shift - (limit - side.data[cell]!);
    return u === 0 || towards * middle - question.guard * u >= -1e-9 * Math.abs(limit);
  };
  return holds(question.low, read.low, 1) && holds(question.high, read.high, -1);
}

/** One cell of a tensor in one lane; every tensor is laid along the check's axes once for all its lanes. */
function laneFigure(tensor: ReturnType<typeof tensorOf>, axes: readonly Axis[], cell: number, lane: number): number {
  const known = laidOut.get(tensor);
  const laid = known?.axes === axes ? known : layOut(tensor, axes);
  return laid.data[laid.lanes ? lane * sizeOf(axes) + cell : cell]!;
}

interface LaidOut {
  readonly axes: readonly Axis[];
  readonly data: Float64Array;
  readonly lanes: boolean;
}
const laidOut = new WeakMap<ReturnType<typeof tensorOf>, LaidOut>();

function layOut(tensor: ReturnType<typeof tensorOf>, axes: readonly Axis[]): LaidOut {
  const across = tensor.axes.find((axis) => axis.id === lanesId);
  const { data } = along(tensor, across === undefined ? axes : [across, ...axes]);
  const laid = { axes, data, lanes: across !== undefined };
  laidOut.set(tensor, laid);
  return laid;
}
