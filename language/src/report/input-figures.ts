// A figure that a formula reads, in words: one cell as it is shown, several as the least and the greatest of them.
import type { Outcome } from '../semantics/plan/outcome.ts';
import { cellCount, placesOf } from './cells.ts';
import { figureOf, figureText, withUnit } from './figures.ts';
import { singleCell } from './inputs.ts';
import type { Input } from './inputs.ts';
import { measureOf, showingsIn } from './units.ts';

export type Read = Pick<Input, 'one' | 'places' | 'view'>;

export function textOfRead(outcome: Outcome, read: Read): string {
  const single = singleCell(read);
  return single === null ? spanText(outcome, read) : figureText(figureOf(outcome, read.one, single, read.view));
}

/** Least and greatest of the cells that are read together. */
function spanText(outcome: Outcome, { one, places, view }: Read): string {
  const cells = Array.from({ length: cellCount(one.axes) }, (_, cell) => cell).filter((cell) =>
    placesOf(one.axes, cell).every((place, at) => places[at] === null || places[at] === place),
  );
  const value = one.views[view];
  if (value.is !== 'numbers' || measureOf(one.slot.type) === null) return `${cells.length} values`;
  const figures = cells.map((cell) => value.tensor.data[cell] ?? NaN).filter((figure) => Number.isFinite(figure));
  if (figures.length === 0) return '—';
  const [showing] = showingsIn(outcome, one.slot);
  const [least, most] = [Math.min(...figures), Math.max(...figures)].map((figure) => withUnit(figure, showing!));
  const missing = figures.length < cells.length ? `, ${cells.length - figures.length} missing` : '';
  return least === most ? `${least}, ${cells.length} alike${missing}` : `${least} to ${most}${missing}`;
}
