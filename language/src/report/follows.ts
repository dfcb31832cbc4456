// What follows when one figure that was given changes: every other figure that moves by more than its last shown digit, and checks that
// come to stand otherwise. Two outcomes are laid beside each other; computes no figure.
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { planBuild } from '../semantics/plan/run.ts';
import { consequencesOf } from '../semantics/solve/consequences.ts';
import { withMoves } from '../semantics/solve/reach.ts';
import type { Changed, Moved } from '../semantics/solve/records.ts';
import { address, placesOf } from './cells.ts';
import { withUnit } from './figures.ts';
import { headline } from './headline.ts';
import { aligned, paragraph, table } from './table.ts';
import { showingsIn } from './units.ts';
import { gridOf, lastDigit, styleOf } from './writing.ts';

/** `digits`: by how many of its last digits the figure changes, the way that a cut takes it, else up. */
export function followsLines(outcome: Outcome, one: SlotOutcome, cell: number, digits: number): string[] {
  const value = one.views.measured;
  const from = value.is === 'numbers' ? value.tensor.data[cell] : undefined;
  if (one.slot.sort !== 'property' || from === undefined || !Number.isFinite(from))
    return ['', 'What follows', '  This figure is not given but worked out, or missing: ask for one that is given.'];
  const way = one.slot.features.includes('falls') ? -1 : 1;
  const to = from + way * digits * gridOf(styleOf(outcome, one.slot.id, cell)).step;
  const move = {
    slot: one.slot.id,
    to: new Map([[cell, to]]),
    from: new Map([[cell, from]]),
    whole: false,
    even: false,
  };
  const after = withMoves(planBuild(outcome.binding, undefined, outcome.texts), [move]).outcome();
  const { moved, worse, better } = consequencesOf(outcome, after, lastDigit(outcome));
  const others = moved.filter(({ before }) => before.slot.id !== one.slot.id);
  const [showing] = showingsIn(outcome, one.slot);
  return [
    '',
    `What follows when it goes from ${withUnit(from, showing!)} to ${withUnit(to, showing!)}`,
    ...(others.length === 0 ? ['  No other figure moves by its last digit.'] : movedTable(outcome, others)),
    ...standing('No longer holds', after, worse),
    ...standing('Holds again', after, better),
  ];
}

/** One line a figure, at the place where it moves furthest. */
function movedTable(outcome: Outcome, moved: readonly Moved[]): string[] {
  const rows = moved.map(({ before, cell, from, to }) => {
    const [showing] = showingsIn(outcome, before.slot);
    const name = address(outcome.binding.schema, before.slot, before.axes, countedPlaces(before, cell));
    return [name, withUnit(from, showing!), withUnit(to, showing!)] as const;
  });
  const was = aligned(
    rows.map(([, from]) => from),
    'point',
  );
  const is = aligned(
    rows.map(([, , to]) => to),
    'point',
  );
  return table(
    [['', 'now', 'then'], ...rows.map(([name], at) => [`  ${name}`, was[at]!, is[at]!])],
    ['left', 'left', 'left'],
  );
}

/** Places that are counted or named; along a sampled run of figures no single place is told. */
function countedPlaces({ axes }: SlotOutcome, cell: number): (number | null)[] {
  return placesOf(axes, cell).map((place, at) => {
    const { labels, coordinates } = axes[at]!;
    return labels !== null || Number.isInteger(coordinates[place]) ? place : null;
  });
}

function standing(title: string, after: Outcome, changed: readonly Changed[]): string[] {
  return changed.flatMap((one) => (one.after === null ? [] : paragraph(`  ${title}: `, headline(after, one.after))));
}
