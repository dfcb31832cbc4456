/** Judges one cell of one comparison. Knows numbers, limits and what they are worth; no slots, no rules. */
import { Mark } from '../evaluate/value.ts';
import type { Axis } from '../evaluate/value.ts';
import type { CheckState } from '../plan/outcome.ts';
import { difference, movementOf, reachOf, uncertaintyOf } from './question.ts';
import type { Question, Side } from './question.ts';

/** How wide the guard band is at each limit: nearer to it than that nothing can be said. Null on a side that is open. */
export interface Guard {
  readonly low: number | null;
  readonly high: number | null;
}

export interface Verdict {
  readonly state: CheckState;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly band: { readonly low: number; readonly high: number } | null;
  readonly guard: Guard | null;
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
  if (marks.includes(Mark.absent)) return { ...figures, ...unguarded, state: 'not-applicable' };
  if (value.mark[cell] === Mark.missing) return { ...figures, ...unguarded, state: 'cannot-tell' };
  const sides = sidesOf(question, axes, cell);
  const told = { ...figures, band: bandOf(value, axes, cell), guard: guardOf(sides) };
  if (sides.some(({ out }) => out) && sides.some(isBeyond)) return { ...told, state: 'out-of-limits' };
  if (mark === Mark.missing) return { ...told, state: 'cannot-tell' };
  if (sides.some(isNear)) return { ...told, state: 'at-risk' };
  return { ...told, state: mark <= Mark.measured ? 'holds-measured' : 'holds-on-paper' };
}

const unguarded = { band: null, guard: null };

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
  readonly side: 'low' | 'high';
  /** Beyond this limit as it was found. */
  readonly out: boolean;
  /** From the limit to the value with all that is unsure at its middle; below nought it is beyond. */
  readonly room: number;
  readonly u: number;
  /** So much room surely holds, so much beyond is surely out. */
  readonly guard: number;
  readonly slack: number;
}

function sidesOf({ value, low, high, guard }: Question, axes: readonly Axis[], cell: number): readonly SideStanding[] {
  const at = movementOf(value, axes, cell);
  const standing = (side: 'low' | 'high', limits: Side): readonly SideStanding[] => {
    const limit = limits.data[cell]!;
    if (!Number.isFinite(limit)) return [];
    const apart = difference(at, movementOf(limits, axes, cell));
    const out = side === 'low' ? isBelow(value.data[cell]!, low, cell) : isAbove(value.data[cell]!, high, cell);
    const room = side === 'low' ? apart.middle : -apart.middle;
    const u = uncertaintyOf(apart);
    return [{ side, out, room, u, guard: guard * u, slack: slack(limit) }];
  };
  return [...standing('low', low), ...standing('high', high)];
}

/** Not surely inside. */
function isNear({ room, u, guard, slack }: SideStanding): boolean {
  return u > 0 && room - guard < -slack;
}

/** Surely beyond; where nothing is unsure, beyond is surely beyond. */
function isBeyond({ out, room, u, guard, slack }: SideStanding): boolean {
  return u === 0 ? out : room + guard < -slack;
}

function guardOf(sides: readonly SideStanding[]): Guard | null {
  if (!sides.some(({ u }) => u > 0)) return null;
  const at = (wanted: 'low' | 'high'): number | null => sides.find(({ side }) => side === wanted)?.guard ?? null;
  return { low: at('low'), high: at('high') };
}

/** A demand that is true or false: 1 holds. */
export function verdictOfFlag(flag: number, mark: number): Verdict {
  const figures = { value: null, low: null, high: null, ...unguarded, mark };
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
