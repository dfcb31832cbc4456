// A written quantity in another unit of its sort: the figure keeps its meaning, and about as many figures as it had.
import { decimalsOf, fixed } from '@thou/shared/number/format';
import { parseNumber } from '@thou/shared/number/parse';
import { fromSI, standardUnits, toSI, type Unit } from '@thou/shared/unit/unit';
import { blockRootOf, rangeOf, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { nodeAt, offsetOf, type Edit } from './edit.ts';

export interface Conversion {
  readonly title: string;
  readonly edits: readonly Edit[];
}

const mostOffered = 6;

/** For the quantity, range or list at this place; nothing where several units, margins or formulas are mixed. */
export function conversionsAt(source: SourceFile, start: number, end: number): Conversion[] {
  const literal = literalAt(source, start, end);
  if (literal === null) return [];
  const read = standardUnits.parse(literal.unit.text);
  if (!('unit' in read) || read.unit.offset !== 0) return [];
  const from = read.unit;
  return standardUnits
    .offered(from.measure.dimension)
    .filter(
      (to) =>
        to.symbol !== from.symbol && to.offset === 0 && to.measure.kind === from.measure.kind && isUsual(to, from),
    )
    .slice(0, mostOffered)
    .map((to) => {
      const decimals = Math.max(...literal.numbers.map(({ text }) => decimalsFor(text, from, to)));
      const numbers = literal.numbers.map((one) => ({
        ...one,
        text: fixed(fromSI(toSI(parseNumber(one.text), from), to), decimals),
      }));
      return { title: `Write it in ${to.symbol}`, edits: [...numbers, { ...literal.unit, text: to.symbol }] };
    });
}

/** Not a thousand times larger or smaller than what stands there. */
function isUsual(to: Unit, from: Unit): boolean {
  const ratio = to.factor / from.factor;
  return ratio > 1e-4 && ratio < 1e4;
}

/** Decimals that show a figure in another unit exactly where few do, else about as finely as it stood. */
function decimalsFor(text: string, from: Unit, to: Unit): number {
  const typed = /^[\d.]+$/.test(text) ? decimalsOf(text) : 4;
  const figure = fromSI(toSI(parseNumber(text), from), to);
  const alike = Math.max(0, Math.min(9, typed + Math.ceil(Math.log10(to.factor / from.factor) - 1e-9)));
  for (let decimals = 0; decimals <= alike + 3; decimals++)
    if (Math.abs(Number(fixed(figure, decimals)) - figure) <= 1e-12 * Math.abs(figure)) return decimals;
  return alike;
}

interface Literal {
  readonly numbers: readonly Edit[];
  readonly unit: Edit;
}

function literalAt(source: SourceFile, start: number, end: number): Literal | null {
  let widest: Literal | null = null;
  for (let node = nodeAt(source, start, end); node; node = node.$container) {
    const found = literals.has(node.$type) ? literalOf(node, offsetOf(source, blockRootOf(node))) : null;
    if (found) widest = found;
    else if (widest) return widest;
    if (node.$type === 'Given') return null;
  }
  return widest;
}

const literals: ReadonlySet<string> = new Set(['Quantity', 'List', 'Binary', 'Entry']);

function literalOf(node: { readonly $type: string }, base: number): Literal | null {
  const numbers: Edit[] = [];
  const units: Edit[] = [];
  const isPlain = collect(node, base, numbers, units);
  const texts = new Set(units.map(({ text }) => text));
  return isPlain && units.length === 1 && texts.size === 1 && numbers.length > 0 ? { numbers, unit: units[0]! } : null;
}

const bands: ReadonlySet<string> = new Set(['..', '±', '+-']);

function collect(node: { readonly $type: string }, base: number, numbers: Edit[], units: Edit[]): boolean {
  const piece = (of: ast.Quantity | ast.List, property: string, text: string): Edit => {
    const { start, end } = rangeOf({ node: of, property });
    return { start: base + start, end: base + end, text };
  };
  if (node.$type === 'Quantity') {
    const quantity = node as ast.Quantity;
    if (quantity.margin !== undefined || quantity.marginUnit !== undefined) return false;
    if (Number.isNaN(parseNumber(quantity.number))) return false;
    numbers.push(piece(quantity, 'number', quantity.number));
    if (quantity.unit !== undefined) units.push(piece(quantity, 'unit', quantity.unit));
    return true;
  }
  if (node.$type === 'Binary') {
    const { operator, left, right } = node as ast.Binary;
    return bands.has(operator) && collect(left, base, numbers, units) && collect(right, base, numbers, units);
  }
  if (node.$type === 'Entry') {
    const { item, value } = node as ast.Entry;
    return collect(item ?? value, base, numbers, units);
  }
  if (node.$type !== 'List') return false;
  const list = node as ast.List;
  if (list.to !== undefined || list.subject !== undefined) return false;
  if (list.unit !== undefined) units.push(piece(list, 'unit', list.unit));
  return list.entries.every((entry) => {
    const value = entry.item ?? entry.value;
    const isBlank = value.$type === 'Ref' && value.steps[0]?.name === '_';
    return isBlank || collect(value, base, numbers, units);
  });
}
