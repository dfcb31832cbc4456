/** Cells of checks as they are told: state, figures, and what is missing where it cannot be told. */
import { placesOf } from '../plan/labels.ts';
import type { CheckCell, MissingInput } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import type { Judged } from './judge.ts';
import { findingsAbout } from './kept.ts';
import { missingUnder } from './missing.ts';
import type { Start } from './reach.ts';

/** Before anything is accepted. One list a check; what was told before an edit that touched nothing under it stands. */
export function cellsOf(plan: Plan, judged: readonly Judged[]): readonly (readonly CheckCell[])[] {
  const missing = missingFor(
    plan,
    judged.filter((one) => findingsAbout(one).cells === undefined),
  );
  return judged.map((one) => (findingsAbout(one).cells ??= one.verdicts.map((_, cell) => cellOf(one, cell, missing))));
}

type MissingBy = ReadonlyMap<Judged, ReadonlyMap<number, readonly MissingInput[]>>;

/** What is missing, for every cell of every check that cannot be told. */
function missingFor(plan: Plan, judged: readonly Judged[]): MissingBy {
  const open = judged.flatMap((one) =>
    one.verdicts.flatMap(({ state }, cell) => (state === 'cannot-tell' ? [{ one, cell }] : [])),
  );
  const missing = missingUnder(
    plan,
    open.map(({ one, cell }) => startAt(one, [cell])),
  );
  const by = new Map<Judged, Map<number, readonly MissingInput[]>>();
  open.forEach(({ one, cell }, at) => {
    const cells = by.get(one) ?? new Map<number, readonly MissingInput[]>();
    cells.set(cell, missing[at]!);
    by.set(one, cells);
  });
  return by;
}

function cellOf(judged: Judged, cell: number, missing: MissingBy): CheckCell {
  const { state, value, low, high, band, guard } = judged.verdicts[cell]!;
  const inputs = missing.get(judged)?.get(cell) ?? [];
  return { places: placesOf(cell, judged.axes), state, value, low, high, band, guard, missing: inputs, accept: null };
}

/** From some cells of a check down. */
export function startAt({ trace, exprs, axes, verdicts }: Judged, cells: readonly number[]): Start {
  const mask = new Uint8Array(verdicts.length);
  for (const cell of cells) mask[cell] = 1;
  return { trace, exprs, axes, mask };
}
