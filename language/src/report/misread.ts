// A reading that is far off the size asked for, and would be to size but for a slip of the pen: another unit, two figures that changed places, the point.
import { displayUnit } from '@thou/shared/number/format';
import { standardUnits, toSI } from '@thou/shared/unit/unit';
import type { Unit } from '@thou/shared/unit/unit';
import type { CheckCell, CheckOutcome, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { cellOfPlaces, placesOf } from './cells.ts';
import { worstOf } from './check-words.ts';
import { typed, unitsWritten } from './typed.ts';
import { showingsOf } from './units.ts';

/** `look at the unit, since 2.2249 in would be to size`; empty where no such slip would explain the worst cell. */
export function slipOfPen(outcome: Outcome, check: CheckOutcome): string {
  const worst = worstOf(check.cells.filter(({ state }) => state === check.state));
  const one = check.slot === null ? undefined : outcome.slots[check.slot.id];
  if (worst === null || one === undefined) return '';
  const cell = cellOfPlaces(one.axes, check.axes, worst.places);
  const source = one.sourceOf(cell, 'measured');
  const written = source && typed(source.value, one.axes, placesOf(one.axes, cell));
  const unit = written?.unit ? standardUnits.get(written.unit) : undefined;
  if (!written || unit === undefined || !/^\d*\.?\d+$/.test(written.number)) return '';
  const { number } = written;
  const other = otherUnits(one, cell, unit).find((each) => isToSize(worst, number, each));
  if (other !== undefined) return sinceText('at the unit', number, other);
  const swapped = withTwoSwapped(number).find((each) => isToSize(worst, each, unit));
  if (swapped !== undefined) return sinceText('whether two figures changed places', swapped, unit);
  const moved = withPointMoved(number).find((each) => isToSize(worst, each, unit));
  return moved === undefined ? '' : sinceText('at the point', moved, unit);
}

function sinceText(what: string, number: string, unit: Unit): string {
  return `look ${what}, since ${number} ${displayUnit(unit.symbol)} would be to size`;
}

function isToSize({ low, high }: CheckCell, number: string, unit: Unit): boolean {
  const si = toSI(Number(number), unit);
  return (low === null || si >= low) && (high === null || si <= high);
}

/** Those in which the figure is shown, or was asked for. */
function otherUnits(one: SlotOutcome, cell: number, own: Unit): readonly Unit[] {
  const asked = unitsWritten(one.sourceOf(cell, 'ordered')?.origin.at)?.unit;
  const units = [
    ...showingsOf(one.slot).map(({ unit }) => unit),
    asked === undefined ? null : standardUnits.get(asked),
  ];
  return units.flatMap((unit) => (unit && unit !== own ? [unit] : []));
}

/** Neighbours first. */
function withTwoSwapped(number: string): readonly string[] {
  const places = [...number].flatMap((sign, at) => (sign === '.' ? [] : [at]));
  const pairs = places.flatMap((first, at) => places.slice(at + 1).map((second) => [first, second] as const));
  const unlike = pairs.filter(([first, second]) => number[first] !== number[second]);
  unlike.sort(([a, b], [c, d]) => b - a - (d - c));
  return unlike.map(([first, second]) => {
    const signs = [...number];
    [signs[first], signs[second]] = [signs[second]!, signs[first]!];
    return signs.join('');
  });
}

const farthestMove = 3;

function withPointMoved(number: string): readonly string[] {
  const [whole = '', decimals = ''] = number.split('.');
  const zeros = '0'.repeat(farthestMove);
  const digits = `${zeros}${whole}${decimals}${zeros}`;
  const point = zeros.length + whole.length;
  return [1, -1, 2, -2, 3, -3].map((by) => {
    const [before, after] = [digits.slice(0, point + by), digits.slice(point + by)];
    return `${before.replace(/^0+(?=\d)/, '')}.${after.replace(/0+$/, '')}`.replace(/\.$/, '');
  });
}
