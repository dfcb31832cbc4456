/** What a hover says of a written figure and of a unit: the same figure in the other units in which its slot is shown. */
import type { AstNode } from 'langium';
import { nameOf } from '@thou/shared/dimension/types';
import { parseNumber } from '@thou/shared/number/parse';
import { toSI, type Unit } from '@thou/shared/unit/unit';
import type * as ast from '../../grammar/generated/ast.ts';
import { withUnit } from '../../report/figures.ts';
import { basicUnit, showingsOf, type Showing } from '../../report/units.ts';
import type { FileResult } from '../../semantics/project.ts';
import type { Slot } from '../../semantics/schema/schema.ts';
import type { Piece } from './page.ts';

/** On a figure: what it is in the second unit. Null where it has no unit, or no other. */
export function quantityPieces(quantity: ast.Quantity, result: FileResult): Piece[] | null {
  const unit = unitOf(quantity, result);
  const others = unit ? conversions(quantity, unit, result) : [];
  return others.length === 0
    ? null
    : [{ is: 'head', name: figureAsWritten(quantity, unit!), rest: `= ${others.join(' = ')}` }];
}

/** On a unit: what it is, and the figure before it in the other units of its slot. */
export function unitPieces(written: string, node: AstNode, result: FileResult): Piece[] {
  const read = result.ground.setting.library.units.parse(written);
  if (!('unit' in read)) return [];
  const { unit } = read;
  const { measures } = result.ground.setting.library;
  const others = node.$type === 'Quantity' ? conversions(node as ast.Quantity, unit, result) : [];
  const basic = basicUnit(unit.measure);
  const size =
    basic && basic.symbol !== unit.symbol && unit.offset === 0
      ? `1 ${unit.symbol} = ${Number(unit.factor.toPrecision(9))} ${basic.symbol}`
      : '';
  return [
    { is: 'head', name: unit.symbol, rest: `unit of ${nameOf(unit.measure, measures)}` },
    ...(size === '' ? [] : [{ is: 'text', text: size } as const]),
    ...(others.length === 0
      ? []
      : [{ is: 'text', text: `${figureAsWritten(node as ast.Quantity, unit)} = ${others.join(' = ')}` } as const]),
  ];
}

function figureAsWritten({ number }: ast.Quantity, unit: Unit): string {
  return `${number} ${unit.symbol}`;
}

/** Its own unit, or the one behind the list that it stands in. */
function unitOf(quantity: ast.Quantity, result: FileResult): Unit | null {
  let symbol = quantity.unit;
  for (let at: AstNode | undefined = quantity.$container; symbol === undefined && at; at = at.$container)
    if (at.$type === 'List') symbol = (at as ast.List).to ?? (at as ast.List).unit;
  const read = symbol === undefined ? null : result.ground.setting.library.units.parse(symbol);
  return read && 'unit' in read ? read.unit : null;
}

function conversions(quantity: ast.Quantity, unit: Unit, result: FileResult): string[] {
  const figure = parseNumber(quantity.number);
  if (!Number.isFinite(figure)) return [];
  const si = toSI(figure, unit);
  const showings = (slotRound(quantity, result)?.shown.length ?? 0) > 0 ? showingsOf(slotRound(quantity, result)!) : [];
  const beside = showings.filter((one) => fits(one, unit));
  const basic = basicUnit(unit.measure);
  const offered: Showing[] =
    beside.length > 0 ? beside : basic && basic.symbol !== unit.symbol ? [{ unit: basic, decimals: null }] : [];
  return offered.map((one) => withUnit(si, one));
}

function fits({ unit: other }: Showing, unit: Unit): boolean {
  return other !== null && other.symbol !== unit.symbol && other.measure.dimension === unit.measure.dimension;
}

/** The figure that a written quantity is given to: whose value it is, wherever it stands in it. */
function slotRound(node: AstNode, result: FileResult): Slot | undefined {
  for (let at: AstNode | undefined = node; at; at = at.$container) {
    const origin = at;
    if (at.$type === 'Property' || at.$type === 'Derive')
      return result.schema.slots.find((slot) => slot.origin.at === origin);
    if (at.$type !== 'Given') continue;
    const step = (at as ast.Given).path?.steps.at(-1);
    for (const names of step ? result.names : [])
      for (const { thing } of names.of(step!)) if (thing.is === 'slot') return thing.draft.slots[thing.slot];
    return undefined;
  }
  return undefined;
}
