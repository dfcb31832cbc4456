// What is to be cut and what came back: figures that an order names, and sizes with limits that a reading does not meet.
// Which way a cut can go is a mark of the declaration.
import type { CheckCell, CheckOutcome, Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import type { View } from '../../semantics/ir.ts';
import { address, cellCount, cellOfPlaces, cellsInWords, held, placesOf } from '../cells.ts';
import { slotAt } from '../drawings/figures.ts';
import { pathWords, showingOfCheck } from '../check-words.ts';
import { bareText, figureOf, limitsText, unitText, withUnit } from '../figures.ts';
import { capitalised, words } from '../place.ts';
import { differenceText, inUnit, showingsIn, type Showing } from '../units.ts';
import type { Cell, TableBlock } from './document.ts';
import type { CutsPart } from './plan.ts';

/** One row of the order, the places of it together. */
interface Cut {
  readonly one: SlotOutcome;
  readonly cells: number[];
  readonly now: string;
  readonly target: string;
  readonly limits: string;
  readonly off: string;
  /** Empty: room to write on. */
  readonly read: string;
  readonly said: string;
  /** `Order 1, 2026-02-20` */
  readonly order: string;
}

const heads = ['What', 'Now', 'To be', 'Limits', 'Cut by', 'As read', 'By whom'];

export function cutTables(outcome: Outcome, plan: CutsPart): TableBlock[] {
  const byOrder = new Map<string, Cut[]>();
  for (const cut of [...orderedCuts(outcome), ...cutsToSize(outcome)])
    byOrder.set(cut.order, [...(byOrder.get(cut.order) ?? []), cut]);
  return [...byOrder].map(([caption, cuts]) => ({
    is: 'table',
    caption,
    heads,
    rows: cuts.map((cut, at) => {
      const isLast = cuts[at + 1]?.one !== cut.one;
      const under = [cut.said, ...(isLast ? notesOf(outcome, plan, cut.one.slot.path) : [])];
      return { cells: cellsOf(outcome, cut), under: under.filter((part) => part !== '').join(' ') };
    }),
  }));
}

/** What an order on record says of the figure; where none does, what holds for every cut of it. */
function notesOf(outcome: Outcome, { notes = [], records }: CutsPart, path: string): string[] {
  const said = records ? recordedFor(outcome, records, path) : [];
  return said.length > 0 ? said : notes.filter(({ of }) => of.includes(path)).map(({ text }) => text);
}

function recordedFor(outcome: Outcome, { of, figure, tell }: NonNullable<CutsPart['records']>, path: string): string[] {
  const naming = slotAt(outcome, `${of}.${figure}`);
  if (!naming) return [];
  const ones = tell.flatMap((name) => {
    const one = slotAt(outcome, `${of}.${name}`);
    return one ? [{ name, one }] : [];
  });
  return Array.from({ length: cellCount(naming.axes) }, (_, cell) => cell).flatMap((cell) => {
    const word = (one: SlotOutcome): string => {
      const at = cellOfPlaces(one.axes, naming.axes, placesOf(naming.axes, cell));
      const content = held(one.views.measured, one.axes, at);
      return content.is === 'number' ? bareText(figureOf(outcome, one, at, 'measured')) : '';
    };
    const isGiven = (one: SlotOutcome): boolean => {
      const layer = one.layerOf(cellOfPlaces(one.axes, naming.axes, placesOf(naming.axes, cell)), 'measured');
      return layer !== null && layer !== 'default' && layer !== 'mount-default' && layer !== 'formula';
    };
    if (word(naming) !== path || !ones.some(({ one }) => isGiven(one))) return [];
    const told = ones.flatMap(({ name, one }) => (word(one) === '' ? [] : [`${words(name)} ${word(one)}`]));
    const where = cellsInWords(naming.axes, [placesOf(naming.axes, cell)]);
    return told.length === 0
      ? []
      : [`${capitalised([where, told.join(', ')].filter((one) => one !== '').join(': '))}.`];
  });
}

function cellsOf(outcome: Outcome, { one, cells, now, target, limits, off, read }: Cut): Cell[] {
  const places = cells.map((cell) => placesOf(one.axes, cell));
  const where = cellsInWords(one.axes, places);
  const name = capitalised(pathWords(one.slot.path)) + (where === '' ? '' : `, ${where}`);
  const first = address(outcome.binding.schema, one.slot, one.axes, places[0]!);
  const number = (text: string): Cell => ({ text, is: 'number' });
  return [
    { text: name, address: first },
    number(now),
    number(target),
    number(limits),
    number(off),
    read === '' ? { is: 'blank' } : number(read),
    { is: 'blank' },
  ];
}

/** Places of one figure that take the same cut are told together. */
function together(cuts: readonly Cut[]): Cut[] {
  const groups = new Map<string, Cut>();
  for (const cut of cuts) {
    const key = [cut.one.slot.id, cut.now, cut.target, cut.limits, cut.off, cut.read, cut.said, cut.order].join('\n');
    const group = groups.get(key);
    if (group) group.cells.push(...cut.cells);
    else groups.set(key, cut);
  }
  return [...groups.values()];
}

/** Whether anything is ordered, or is to be brought to size. */
export function hasCuts(outcome: Outcome): boolean {
  return orderedSlots(outcome).length > 0 || cutsToSize(outcome).length > 0;
}

function orderedSlots({ binding, slots }: Outcome): SlotOutcome[] {
  const given = [...binding.assignments, ...(binding.base?.assignments ?? [])];
  const named = new Set(given.filter(({ layer }) => layer === 'machining').map(({ slot }) => slot));
  return slots.filter((one) => named.has(one.slot.id) && one.slot.type.is === 'measure');
}

function orderedCuts(outcome: Outcome): Cut[] {
  return orderedSlots(outcome).flatMap((one) => {
    const [showing] = showingsIn(outcome, one.slot);
    const figure = (cell: number, view: View): string =>
      bareText({ ...figureOf(outcome, one, cell, view), second: null });
    const cuts: Cut[] = [];
    for (let cell = 0; cell < cellCount(one.axes); cell++) {
      if (one.layerOf(cell, 'ordered') !== 'machining') continue;
      const source = one.sourceOf(cell, 'ordered');
      const [before, ordered] = [held(one.views.before, one.axes, cell), held(one.views.ordered, one.axes, cell)];
      if (ordered.is !== 'number') continue;
      const isRead = one.states[cell] === 'measured';
      cuts.push({
        one,
        cells: [cell],
        now: before.is === 'number' ? figure(cell, 'before') : figure(cell, 'specified'),
        target: withUnit(ordered.value, showing!),
        limits:
          ordered.low === null || ordered.high === null
            ? 'none given'
            : withLimits(ordered.low, ordered.high, showing!),
        off: before.is === 'number' ? difference(Math.abs(before.value - ordered.value), showing!) : '',
        read: isRead ? figure(cell, 'measured') : '',
        said: isRead ? 'Came back.' : '',
        order: [source?.whose ?? '', source?.date ?? ''].filter((part) => part !== '').join(', '),
      });
    }
    return together(cuts);
  });
}

function withLimits(low: number, high: number, showing: Showing): string {
  return `${limitsText(low, high, showing)} ${unitText(showing)}`.trim();
}

function difference(si: number, showing: Showing): string {
  return [differenceText(inUnit(si, showing, 'difference'), showing), unitText(showing)].join(' ').trim();
}

/** A size that a cut makes. */
function isCut({ slot: { features } }: SlotOutcome): boolean {
  return features.includes('grows') || features.includes('falls');
}

/** Sizes given with limits that a reading is outside of. */
function cutsToSize(outcome: Outcome): Cut[] {
  return outcome.checks.flatMap((check) => {
    const one = outcome.slots.find(({ slot }) => slot.id === check.slot?.id);
    if (check.kind !== 'to-size' || !one || !isCut(one)) return [];
    const out = check.cells.filter(({ state }) => state === 'out-of-limits');
    return together(out.flatMap((cell) => cutToSize(outcome, one, check, cell)));
  });
}

function cutToSize(outcome: Outcome, one: SlotOutcome, check: CheckOutcome, at: CheckCell): Cut[] {
  const { value, low, high } = at;
  if (value === null || low === null || high === null) return [];
  const showing = showingOfCheck(outcome, check);
  const cell = cellOfPlaces(one.axes, check.axes, at.places);
  const mends = one.slot.features.includes(value < low ? 'grows' : 'falls');
  return [
    {
      one,
      cells: [cell],
      now: withUnit(value, showing),
      target: mends ? withUnit((low + high) / 2, showing) : '',
      limits: withLimits(low, high, showing),
      off: mends ? difference(Math.abs((low + high) / 2 - value), showing) : '',
      read: '',
      said: mends ? '' : `It is past its ${value < low ? 'least' : 'greatest'} already: no cut mends it.`,
      order: 'Out of size as it was read',
    },
  ];
}
