// A figure as it was typed: the text of the literal behind a cell, with the unit that serves it.
// Knows texts and lists; computes nothing.
import type { AstNode } from 'langium';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { AxisKey, Expr, ListOf } from '../semantics/ir.ts';
import { enclosing, isNode, partOf, textOf } from './place.ts';

export interface Typed {
  /** `4.125`, `7/16`, `2.0990..2.1000`, `4.1205 +0.0005/-0`: without the unit. */
  readonly number: string;
  /** As written; null for a plain number. */
  readonly unit: string | null;
}

/** What was typed for this cell; null where the figure was computed, or read from a table of readings. */
export function typed(given: Expr, axes: readonly Axis[], places: readonly number[]): Typed | null {
  const leaf = leafFor(given, axes, places);
  if (!leaf?.at || (leaf.op !== 'constant' && leaf.op !== 'toleranced')) return null;
  return isLiteral(leaf.at) ? withoutUnit(leaf.at) : null;
}

/** How many readings a cell is the mean of; 1 where it was read once. */
export function readingsIn(given: Expr, axes: readonly Axis[], places: readonly number[]): number {
  const leaf = leafFor(given, axes, places);
  return leaf?.op === 'repeated' ? leaf.readings.length : 1;
}

/** The expression that speaks for one cell of a list. */
function leafFor(given: Expr, axes: readonly Axis[], places: readonly number[]): Expr | null {
  if (given.op !== 'list') return given;
  const at = axes.findIndex((axis) => axis.id === given.axis);
  const axis = axes[at];
  const place = places[at];
  if (!axis || place === undefined) return null;
  const entry = entryFor(given, axis, place);
  return entry ? leafFor(entry, axes, places) : null;
}

function entryFor(list: ListOf, axis: Axis, place: number): Expr | null {
  const named = list.entries.find(({ key }) => key !== null && namesPlace(key, axis, place));
  if (named) return named.value;
  const bare = list.entries[place];
  return bare && bare.key === null ? bare.value : list.others;
}

/** True where a key written in a file means this place. */
export function namesPlace(key: AxisKey, axis: Axis, place: number): boolean {
  if (key.label !== null) return axis.labels?.[place] === key.label;
  return (
    key.number !== null && Math.abs(key.number - axis.coordinates[place]!) <= 1e-9 * Math.max(1, Math.abs(key.number))
  );
}

const rangeOrMargin = new Set(['..', '±', '+-']);

function isLiteral(at: AstNode): boolean {
  if (at.$type === 'Quantity') return true;
  const operator = (at as { operator?: unknown }).operator;
  const sides = ['left', 'right', 'operand'].map((side) => partOf(at, side)).filter((side) => side !== null);
  if (at.$type === 'Prefixed') return operator === '-' && sides.every(isLiteral);
  if (at.$type === 'Binary')
    return typeof operator === 'string' && rangeOrMargin.has(operator) && sides.every(isLiteral);
  return at.$type === 'Paren' && partOf(at, 'value') !== null && isLiteral(partOf(at, 'value')!);
}

function withoutUnit(at: AstNode): Typed | null {
  const text = textOf(at);
  if (text === null) return null;
  const units = new Set(
    quantities(at).flatMap((one) => [one.unit, one.marginUnit].filter((unit) => unit !== undefined)),
  );
  if (units.size > 1) return { number: text, unit: '' };
  const [unit] = units;
  if (unit === undefined) return { number: text, unit: listUnit(at) };
  // written by habit, such as an inch mark: shown as it is declared
  if (!text.includes(unit)) return null;
  return { number: text.replaceAll(unit, '').replace(/\s+/g, ' ').trim(), unit };
}

interface QuantityText extends AstNode {
  readonly unit?: string;
  readonly marginUnit?: string;
}

function quantities(at: AstNode): QuantityText[] {
  if (at.$type === 'Quantity') return [at as QuantityText];
  return ['left', 'right', 'operand', 'value'].flatMap((side) => {
    const part = partOf(at, side);
    return part ? quantities(part) : [];
  });
}

/** A unit behind the last bracket serves every bare number of a list, also of the lists around it. */
function listUnit(at: AstNode): string | null {
  for (let list = enclosing(at, 'List'); list; list = list.$container ? enclosing(list.$container, 'List') : null) {
    const { unit } = list as { unit?: string };
    if (unit !== undefined) return unit;
  }
  return null;
}

interface UnitsWritten {
  readonly unit: string;
  readonly to: string | null;
}
const unitsIn = new WeakMap<AstNode, UnitsWritten | null>();

/** The first unit written in a piece of text, and the one behind `->` of a curve: what its figures are thought in. */
export function unitsWritten(at: AstNode | null | undefined): UnitsWritten | null {
  if (!at) return null;
  const known = unitsIn.get(at);
  if (known !== undefined) return known;
  const found = firstUnit(at);
  unitsIn.set(at, found);
  return found;
}

function firstUnit(at: AstNode): UnitsWritten | null {
  const { unit, to } = at as { unit?: unknown; to?: unknown };
  if (typeof unit === 'string') return { unit, to: typeof to === 'string' ? to : null };
  for (const [key, inner] of Object.entries(at)) {
    if (key.startsWith('$')) continue;
    for (const part of Array.isArray(inner) ? inner : [inner]) {
      const found = isNode(part) ? unitsWritten(part) : null;
      if (found) return found;
    }
  }
  return null;
}
