/** Findings that the builder has looked at and lives with, inside the limits that were set with them. */
import { nearest } from '@thou/shared/number/nearest';
import type { AcceptGiven } from '../bind/binding.ts';
import type { Axis } from '../evaluate/value.ts';
import { placeOf } from '../plan/axes.ts';
import { chainOf } from '../plan/figures.ts';
import type { CheckCell, PlanProblem } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import { didYouMean } from '../problems/messages.ts';
import { sideOf } from './question.ts';
import type { Side } from './question.ts';
import { isAbove, isBelow } from './verdict.ts';

/** Bases first; one that a variant's binding repeats counts once. */
export function acceptsOf(plan: Plan): readonly AcceptGiven[] {
  const seen = new Set<unknown>();
  return chainOf(plan.binding)
    .flatMap((binding) => binding.accepts)
    .filter((accept) => !seen.has(accept.origin.at) && seen.add(accept.origin.at));
}

/** Which cells of a check an accept names. A key without axis takes the first axis that has such a place and is not named yet. */
function cellsNamed(accept: AcceptGiven, axes: readonly Axis[]): ReadonlyMap<Axis, number> | string {
  const named = new Map<Axis, number>();
  for (const { key, axisName } of accept.selector) {
    const axis = axes.find(
      (one) => !named.has(one) && (axisName === null ? placeOf(one, key) !== null : one.name === axisName),
    );
    const place = axis === undefined ? null : placeOf(axis, key);
    if (axis === undefined || place === null) return key.label ?? String(key.number);
    named.set(axis, place);
  }
  return named;
}

export interface Accepted {
  readonly cells: readonly CheckCell[];
  /** Accepts that had something to accept, or may yet have. */
  readonly used: ReadonlySet<AcceptGiven>;
  readonly problems: readonly PlanProblem[];
}

/** Lays the accepts of one check over its cells. */
export function accepted(
  plan: Plan,
  id: string,
  axes: readonly Axis[],
  cells: readonly CheckCell[],
  accepts: readonly AcceptGiven[],
): Accepted {
  const used = new Set<AcceptGiven>();
  const problems: PlanProblem[] = [];
  let laid = cells;
  for (const accept of accepts) {
    const named = cellsNamed(accept, axes);
    if (typeof named === 'string') {
      used.add(accept); // one message is enough
      problems.push({
        code: 'list.no-such-place',
        severity: 'error',
        args: { key: named, axis: axes.map((axis) => axis.name).join(', ') || id },
        origin: accept.origin,
        related: [],
      });
      continue;
    }
    const within = limitsOf(plan, accept, axes);
    laid = laid.map((one, cell) => {
      if (![...named].every(([axis, place]) => one.places[axes.indexOf(axis)] === place)) return one;
      if (one.state === 'cannot-tell') used.add(accept);
      if (one.state !== 'out-of-limits' && one.state !== 'at-risk') return one;
      used.add(accept);
      const inside =
        one.value === null ||
        (within !== null && !isBelow(one.value, within.low, cell) && !isAbove(one.value, within.high, cell));
      return inside ? { ...one, state: 'accepted', accept } : one;
    });
  }
  return { cells: laid, used, problems };
}

function limitsOf(
  plan: Plan,
  accept: AcceptGiven,
  axes: readonly Axis[],
): { readonly low: Side; readonly high: Side } | null {
  const { value } = plan.watch(accept.within, accept.origin);
  if (value.is !== 'limits') return null;
  return { low: sideOf(value.low, axes, false, null), high: sideOf(value.high, axes, false, null) };
}

export function noSuchCheck(accept: AcceptGiven, ids: readonly string[]): PlanProblem {
  const args = { name: accept.rule, near: didYouMean(nearest(accept.rule, ids)) };
  return { code: 'accept.no-such-check', severity: 'error', args, origin: accept.origin, related: [] };
}

export function notNeeded(accept: AcceptGiven): PlanProblem {
  return {
    code: 'accept.not-needed',
    severity: 'advice',
    args: { name: accept.rule },
    origin: accept.origin,
    related: [],
  };
}
