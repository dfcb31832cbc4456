/** Judges one cell of one comparison. Knows numbers, limits and what they are worth; no slots, no rules. */
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { CheckState } from '../plan/outcome.ts';
import { difference, movementOf, reachOf, uncertaintyOf } from './question.ts';
import type { Question, Side } from './question.ts';

export interface Verdict {
  readonly state: CheckState;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly band: { readonly low: number; readonly high: number } | null;
  /** The worst mark of all that was compared. */
  readonly mark: number;
}

const tolerance = 1e-9;

/** Worst first. */
export const worstFirst: readonly CheckState[] = [
  'out-of-limits',
  'at-risk',
  'cannot-tell',
  'accepted',
  'holds-on-paper',
  'holds-measured',
  'not-applicable',
];

export function worseState(a: CheckState, b: CheckState): CheckState {
  return worstFirst.indexOf(a) <= worstFirst.indexOf(b) ? a : b;
}

export function worstState(states: readonly CheckState[]): CheckState {
  return states.reduce(worseState, 'not-applicable');
}

export function verdictOf(question: Question, axes: readonly Axis[], cell: number): Verdict {
  const { value, low, high } = question;
  const marks = [value.mark[cell]!, low.mark[cell]!, high.mark[cell]!];
  const mark = Math.max(...marks);
  const figures = { value: shown(value, cell), low: shown(low, cell), high: shown(high, cell), mark };
  if (marks.includes(Mark.absent)) return { ...figures, state: 'not-applicable', band: null };
  if (value.mark[cell] === Mark.missing) return { ...figures, state: 'cannot-tell', band: null };
  const out = isBelow(value.data[cell]!, low, cell) || isAbove(value.data[cell]!, high, cell);
  if (out && isBeyond(question, axes, cell))
    return { ...figures, state: 'out-of-limits', band: bandOf(value, axes, cell) };
  if (mark === Mark.missing) return { ...figures, state: 'cannot-tell', band: bandOf(value, axes, cell) };
  const state = isAtRisk(question, axes, cell)
    ? 'at-risk'
    : mark <= Mark.measured
      ? 'holds-measured'
      : 'holds-on-paper';
  return { ...figures, state, band: bandOf(value, axes, cell) };
}

function shown(side: Side, cell: number): number | null {
  const figure = side.data[cell]!;
  return Number.isFinite(figure) ? figure : null;
}

function slack(limit: number): number {
  return Number.isFinite(limit) ? tolerance * Math.abs(limit) : 0;
}

export function isBelow(value: number, low: Side, cell: number): boolean {
  const limit = low.data[cell]!;
  return low.open ? value <= limit + slack(limit) : value < limit - slack(limit);
}

export function isAbove(value: number, high: Side, cell: number): boolean {
  const limit = high.data[cell]!;
  return high.open ? value >= limit - slack(limit) : value > limit + slack(limit);
}

function bandOf(value: Side, axes: readonly Axis[], cell: number): Verdict['band'] {
  const movement = movementOf(value, axes, cell);
  const reach = reachOf(movement);
  return reach === 0 ? null : { low: movement.middle - reach, high: movement.middle + reach };
}

interface SideStanding {
  /** Beyond this limit as it was found. */
  readonly out: boolean;
  /** From the limit to the value with all that is unsure at its middle; below nought it is beyond. */
  readonly room: number;
  readonly u: number;
  readonly slack: number;
}

function sidesOf({ value, low, high }: Question, axes: readonly Axis[], cell: number): readonly SideStanding[] {
  const at = movementOf(value, axes, cell);
  return ([low, high] as const).flatMap((side): readonly SideStanding[] => {
    const limit = side.data[cell]!;
    if (!Number.isFinite(limit)) return [];
    const room = difference(at, movementOf(side, axes, cell));
    const out = side === low ? isBelow(value.data[cell]!, low, cell) : isAbove(value.data[cell]!, high, cell);
    return [{ out, room: side === low ? room.middle : -room.middle, u: uncertaintyOf(room), slack: slack(limit) }];
  });
}

/** Neither surely inside nor surely beyond. */
function isAtRisk(question: Question, axes: readonly Axis[], cell: number): boolean {
  return sidesOf(question, axes, cell).some(({ room, u, slack }) => u > 0 && room - question.guard * u < -slack);
}

/** Surely beyond one limit; where nothing is unsure, beyond is surely beyond. */
function isBeyond(question: Question, axes: readonly Axis[], cell: number): boolean {
  const sides = sidesOf(question, axes, cell);
  return sides.some(({ out, room, u, slack }) => (u === 0 ? out : room + question.guard * u < -slack));
}

/** A demand that is true or false: 1 holds. */
export function verdictOfFlag(flag: number, mark: number): Verdict {
  const figures = { value: null, low: null, high: null, band: null, mark };
  if (mark === Mark.absent) return { ...figures, state: 'not-applicable' };
  if (mark === Mark.missing) return { ...figures, state: 'cannot-tell' };
  if (flag === 0) return { ...figures, state: 'out-of-limits' };
  return { ...figures, state: mark <= Mark.measured ? 'holds-measured' : 'holds-on-paper' };
}

/** The worst of several; where equal, the first. */
export function worstVerdict(verdicts: readonly Verdict[]): Verdict {
  const worst = verdicts.reduce((a, b) => (worstFirst.indexOf(b.state) < worstFirst.indexOf(a.state) ? b : a));
  return { ...worst, mark: Math.max(...verdicts.map(({ mark }) => mark)) };
}
