/** How far a check is from holding, at many candidates beside each other: below nought it does not hold, or not surely. */
import { difference, movementOf, questionOf, readComparison, tensorOf, uncertaintyOf } from '../check/question.ts';
import type { Question } from '../check/question.ts';
import type { Axis, Tensor } from '../evaluate/value.ts';
import { along, lanesId, sizeOf } from '../plan/cells.ts';
import type { CheckOutcome } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import type { Expr } from '../ir.ts';
import type { Comparison } from '../schema/schema.ts';

/** Room on the nearer side, in each lane the least over these cells of the check. NaN where it cannot be told. */
export interface Gauge {
  readonly check: CheckOutcome;
  room(plan: Plan, lanes: number, cells: readonly number[]): number[];
}

/** Null where the check asks for nothing that a figure could bring about. */
export function gaugeOf(plan: Plan, check: CheckOutcome): Gauge | null {
  const flag = (check.rule ?? check.expect)?.demand.flag ?? null;
  if (flag !== null) return flagGauge(check, flag);
  const comparisons = comparisonsOf(check);
  if (comparisons.length === 0) return null;
  const questions = comparisons.map((one) =>
    questionOf(plan, one, readComparison(plan, one, check.origin), check.axes),
  );
  return {
    check,
    room(moved, lanes, cells) {
      const laid = questions.map((question) => laidOut(moved, question, check));
      return Array.from({ length: lanes }, (_, lane) =>
        Math.min(...laid.flatMap((one) => cells.map((cell) => one(cell, lane)))),
      );
    },
  };
}

/** Of what is true or false there is no telling how far it is: it holds, or it does not. */
function flagGauge(check: CheckOutcome, flag: Expr): Gauge {
  return {
    check,
    room(moved, lanes, cells) {
      const holds = figures(tensorOf(moved.watch(flag, check.origin).value), check.axes);
      return Array.from({ length: lanes }, (_, lane) =>
        cells.every((cell) => holds(cell, lane) === 1)
          ? 0
          : cells.some((cell) => Number.isNaN(holds(cell, lane)))
            ? NaN
            : -1,
      );
    },
  };
}

function comparisonsOf({ kind, rule, expect }: CheckOutcome): readonly Comparison[] {
  const demand = kind === 'rule' ? rule?.demand : expect?.demand;
  return demand === undefined || demand.flag !== null ? [] : demand.comparisons;
}

/** One comparison as it stands in these lanes. */
function laidOut(moved: Plan, question: Question, check: CheckOutcome): (cell: number, lane: number) => number {
  const { axes } = check;
  const read = readComparison(moved, question.comparison!, check.origin);
  // limits that the build itself expects stand still; the trade library's may move with what is changed
  const replaced = check.kind === 'rule' && check.expect !== null;
  const value = figures(tensorOf(read.value), axes);
  const low = read.low === null ? null : figures(read.low, axes);
  const high = read.high === null ? null : figures(read.high, axes);
  return (cell, lane) => {
    const at = value(cell, lane);
    const least = replaced ? (check.cells[cell]!.low ?? -Infinity) : (low?.(cell, lane) ?? -Infinity);
    const most = replaced ? (check.cells[cell]!.high ?? Infinity) : (high?.(cell, lane) ?? Infinity);
    return Math.min(
      at - least - guardOf(question, question.low, axes, cell, 1) + slack(least),
      most - at - guardOf(question, question.high, axes, cell, -1) + slack(most),
    );
  };
}

const tolerance = 1e-9;

function slack(limit: number): number {
  return Number.isFinite(limit) ? (tolerance * Math.abs(limit)) / 2 : 0;
}

/** What must be left to the limit so that the check holds surely: what is unsure, and how far the figure stands from its middle. */
function guardOf(
  question: Question,
  side: Question['low'],
  axes: readonly Axis[],
  cell: number,
  towards: 1 | -1,
): number {
  const limit = side.data[cell]!;
  if (!Number.isFinite(limit)) return 0;
  const room = difference(movementOf(question.value, axes, cell), movementOf(side, axes, cell));
  const u = uncertaintyOf(room);
  if (u === 0) return 0;
  const off = room.middle - (question.value.data[cell]! - limit);
  return Math.max(0, question.guard * u - towards * off);
}

/** Reads one cell in one lane. */
function figures(tensor: Tensor, axes: readonly Axis[]): (cell: number, lane: number) => number {
  const across = tensor.axes.find((axis) => axis.id === lanesId);
  const { data } = along(tensor, across === undefined ? axes : [across, ...axes]);
  const size = sizeOf(axes);
  return (cell, lane) => data[across === undefined ? cell : lane * size + cell]!;
}
