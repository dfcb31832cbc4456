// Where in a text the figure of one cell stands: the entry of its list, not the whole statement. And back: which cells an entry gives.
import type { AstNode } from 'langium';
import { isWritten } from '../grammar/file.ts';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { AxisKey, Expr, ListOf, SlotId } from '../semantics/ir.ts';
import { placeOf } from '../semantics/plan/axes.ts';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import type { AxisId } from '../semantics/types/type.ts';
import { cellAt, placesOf } from './cells.ts';
import { enclosing } from './place.ts';

/** A place on each axis of a figure; null: several, or not known. */
export type Cells = readonly (number | null)[];

/** What these cells of one figure have in common. */
export function inCommon(axes: readonly Axis[], cells: readonly number[]): Cells {
  const [first = [], ...others] = cells.map((cell) => placesOf(axes, cell));
  return axes.map((_, at) => {
    const place = first[at] ?? null;
    return others.every((places) => places[at] === place) ? place : null;
  });
}

/** The narrowest piece of the text that gives these cells; null where they are not written one by one. */
export function writtenAt(outcome: Outcome, slot: SlotId, cells: Cells): Origin | null {
  const one = outcome.slots[slot];
  if (!one) return null;
  const cell = cellAt(
    one.axes,
    cells.map((place) => place ?? 0),
  );
  const source = one.sourceOf(cell, 'measured');
  if (source === null) return null;
  const at = isLaidOut(source.value) ? entryOf(source.value, one.axes, cells) : valueOf(source.origin);
  return at !== null && isWritten(at) ? { uri: source.origin.uri, at } : null;
}

/** The figure and the cells that a piece of a list gives in a build; null where it stands in no list. */
export function cellsGivenBy(
  { binding, slots }: Outcome,
  piece: AstNode,
): { readonly one: SlotOutcome; readonly cells: Cells } | null {
  const given = enclosing(piece, 'Given');
  const source = given === null ? undefined : binding.assignments.find(({ origin }) => origin.at === given);
  const one = source === undefined ? undefined : slots[source.slot];
  if (!source || !one || !isLaidOut(source.value)) return null;
  const cells: (number | null)[] = one.axes.map(() => null);
  const put = (id: AxisId, place: number | null): void => {
    const at = one.axes.findIndex((axis) => axis.id === id);
    if (at >= 0) cells[at] = place;
  };
  for (const { axis, key } of source.selector) put(axis, placeOn(one.axes, axis, key));
  let list = listIn(source.value);
  while (list !== null) {
    const { axis, entries } = list;
    const index = entries.findIndex(({ value }) => value.at !== null && isInside(piece, value.at));
    const entry = entries[index];
    if (entry === undefined) break;
    put(axis, entry.key === null ? index : placeOn(one.axes, axis, entry.key));
    list = listIn(entry.value);
  }
  return { one, cells };
}

function placeOn(axes: readonly Axis[], id: AxisId, key: AxisKey): number | null {
  const axis = axes.find((one) => one.id === id);
  return axis ? placeOf(axis, key) : null;
}

function isInside(piece: AstNode, whole: AstNode): boolean {
  for (let at: AstNode | undefined = piece; at; at = at.$container) if (at === whole) return true;
  return false;
}

function listIn(value: Expr): ListOf | null {
  if (value.op === 'toleranced') return listIn(value.nominal);
  return value.op === 'list' ? value : null;
}

function isLaidOut(value: Expr): boolean {
  return listIn(value) !== null;
}

/** Down the lists, as long as it is known which entry is meant. */
export function entryOf(value: Expr, axes: readonly Axis[], cells: Cells): AstNode | null {
  const list = listIn(value);
  const at = axes.findIndex(({ id }) => id === list?.axis);
  const place = cells[at] ?? null;
  if (list === null || place === null) return value.at;
  const named = list.entries.find(({ key }, index) => (key === null ? index : placeOf(axes[at]!, key)) === place);
  const entry = named?.value ?? list.others;
  return (entry && entryOf(entry, axes, cells)) ?? value.at;
}

/** A figure is underlined without its name. */
function valueOf({ at }: Origin): AstNode | null {
  const value = (at as AstNode & { readonly value?: AstNode }).value;
  return at.$type === 'Given' && value ? value : null;
}
