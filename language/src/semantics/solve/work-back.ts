/** From goals and what may be turned to ways: each alone where one is enough, so many together as there are figures to reach. */
import type { SlotId } from '../ir.ts';
import type { AdjustTarget } from '../schema/schema.ts';
import type { Goal, Goals } from './goals.ts';
import { nearestBought, reachedBy } from './reach.ts';
import type { NotReached } from './reach.ts';
import type { Move } from './records.ts';
import { remediesFor } from './remedies.ts';
import type { Wanted } from './remedies.ts';
import type { Target } from './targets.ts';

export interface Way {
  readonly moves: readonly Move[];
  /** By move, by cell: the root itself, in SI; empty where a size was chosen. */
  readonly exact: readonly ReadonlyMap<number, number>[];
  /** A size from the shelf. */
  readonly bought: boolean;
}
export interface NoWay extends Omit<NotReached, 'target'> {
  readonly targets: readonly Target[];
  /** The one that stands in the way. */
  readonly target: Target;
}

export interface WorkedBack {
  readonly ways: readonly Way[];
  readonly noWays: readonly NoWay[];
}

const mostTogether = 24;

/** `targets`: each may be turned; those of a line one after the other. */
export function workBack(goals: Goals, lines: readonly (readonly Target[])[], wanted: Wanted): WorkedBack {
  const reach = goals.all.filter(({ sort }) => sort === 'reach');
  return reach.length === 0 ? kept(goals, lines, wanted) : reached(goals, reach, lines, wanted);
}

function kept({ plan, kept: check }: Goals, lines: readonly (readonly Target[])[], wanted: Wanted): WorkedBack {
  const ways: Way[] = [];
  const noWays: NoWay[] = [];
  for (const line of lines) {
    const remedies = remediesFor(plan, check!, wanted, [line]).filter(({ aim }) => aim !== 'middle');
    for (const { moves, aim } of remedies) {
      const sizes = new Set(moves.length === 1 ? wanted.sizesOf(moves[0]!.slot) : []);
      const bought =
        aim === 'bought' || (moves.length === 1 && [...moves[0]!.to.values()].every((figure) => sizes.has(figure)));
      ways.push({ moves, exact: moves.map(() => new Map()), bought });
    }
    if (remedies.length === 0) noWays.push(outOfReach(line));
  }
  return { ways: onceEach(ways), noWays };
}

function reached(
  { plan }: Goals,
  reach: readonly Goal[],
  lines: readonly (readonly Target[])[],
  wanted: Wanted,
): WorkedBack {
  const single = lines.flatMap((line) => line.filter(({ even }) => !even));
  const ways: Way[] = [];
  const noWays: NoWay[] = [];
  for (const targets of chosenFrom(single, reach.length).slice(0, mostTogether)) {
    const bought = targets.length === 1 ? nearestBought(plan, reach, targets[0]!, wanted) : null;
    if (bought !== null && changes(bought)) ways.push({ moves: [bought], exact: [new Map()], bought: true });
    const found = reachedBy(plan, reach, targets, wanted);
    if ('why' in found) noWays.push({ ...found, targets });
    else if (!found.moves.some(changes)) noWays.push({ ...outOfReach(targets), why: 'as-near' });
    else ways.push({ ...found, bought: false });
  }
  return { ways: onceEach(ways), noWays };
}

function changes({ from, to }: Move): boolean {
  return [...to].some(([cell, figure]) => Math.abs(figure - from.get(cell)!) > 1e-12 * Math.abs(figure));
}

function outOfReach(targets: readonly Target[]): NoWay {
  const target = targets.at(-1)!;
  const [cell] = target.from.keys();
  return { targets, target, cell: cell!, why: 'out-of-reach', to: null };
}

/** A size worked out that is just the one on the shelf is told once. */
function onceEach(ways: readonly Way[]): readonly Way[] {
  const known = new Set<string>();
  return ways.filter(({ moves }) => {
    const key = moves
      .map(({ slot, to }) => `${slot} ${[...to].map(([cell, figure]) => `${cell}=${figure.toPrecision(9)}`).join()}`)
      .join(';');
    return !known.has(key) && known.add(key);
  });
}

/** Every choice of so many. */
function chosenFrom(targets: readonly Target[], count: number): readonly (readonly Target[])[] {
  if (count === 0) return [[]];
  return targets.flatMap((target, at) =>
    chosenFrom(targets.slice(at + 1), count - 1).map((others) => [target, ...others]),
  );
}

/** What rules on the goals' own figures name to be turned. */
export function adjustsOf({ plan, all }: Goals): readonly AdjustTarget[] {
  const slots = new Set(all.map(({ comparison }) => comparison.slot).filter((slot): slot is SlotId => slot !== null));
  const rules = plan.schema.rules.filter(({ demand }) =>
    demand.comparisons.some(({ slot }) => slot !== null && slots.has(slot)),
  );
  return rules.flatMap(({ adjust }) => adjust);
}
