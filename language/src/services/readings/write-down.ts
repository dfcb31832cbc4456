// Where a reading is written: into the place that a list keeps free for it, else as a line of the block of that day and hand, else as
// a block of its own. Knows texts and offsets; judges nothing.
import type { MeasuredBy } from '@thou/shared/protocol-readings';
import { standardUnits } from '@thou/shared/unit/unit';
import type { AstNode } from 'langium';
import { blockRootOf, isWritten, rangeOf, sourceText, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { cellCount, placeName, placesOf } from '../../report/cells.ts';
import { unitsWritten } from '../../report/typed.ts';
import { entryOf } from '../../report/written-cell.ts';
import type { Assignment } from '../../semantics/bind/binding.ts';
import type { Axis } from '../../semantics/evaluate/value.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { insertion, offsetOf, type Edit } from '../code-actions/edit.ts';
import { lastBlock, pathAt } from '../code-actions/written.ts';

export interface Figure {
  readonly number: string;
  readonly unit: string | null;
}

/** Why a date, a hand or an instrument cannot be written; null where all can. */
export function noteProblem({ date, hand, instrument }: MeasuredBy): string | null {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date) || Number.isNaN(Date.parse(date)))
    return `"${date}" is no date such as 2026-03-02.`;
  const odd = [hand, instrument ?? ''].find((text) => /\p{Cc}/u.test(text) || text.length > longestName);
  return odd === undefined ? null : 'A name is too long, or has signs in it that cannot be written.';
}

const longestName = 80;

/** Null where the build's own text is not in this file. */
export function writtenDown(
  outcome: Outcome,
  source: SourceFile,
  one: SlotOutcome,
  cell: number,
  figure: Figure,
  by: MeasuredBy,
): readonly Edit[] | null {
  const item = outcome.binding.origin.at as ast.Build | ast.Variant;
  if (outcome.binding.origin.uri !== source.uri || !item.body?.$cstNode) return null;
  const base = offsetOf(source, blockRootOf(item.body));
  const block = blockOf(item.body, by);
  const free = block && placeKept(outcome, block, one, cell, figure, by);
  if (free) return [{ start: base + free.start, end: base + free.end, text: figure.number }];
  const isBegun = block !== null && linesOf(outcome, block, one).length > 0;
  const line = lineFor(outcome, one, cell, figure, by, isBegun);
  return [lineIn(outcome, source, base, item.body, block, line, by)];
}

/** A line into the block of that day and hand, or with a block of its own. */
export function lineIn(
  outcome: Outcome,
  source: SourceFile,
  base: number,
  body: ast.Body,
  block: ast.Measured | null,
  line: string,
  by: MeasuredBy,
): Edit {
  const isOf = (member: ast.Member): boolean => member.$cstNode !== undefined;
  if (block) return insertion(source, base, block.body, block.body.members.findLast(isOf) ?? null, [line]);
  const hand = by.hand.trim() === '' ? '' : ` by ${quoted(by.hand)}`;
  const lines = [`measured on ${by.date}${hand} {`, `  ${line}`, '}'];
  return insertion(source, base, body, lastBlock(outcome, body) ?? body.members.findLast(isOf) ?? null, lines);
}

export function blockOf(body: ast.Body, { date, hand, instrument }: MeasuredBy): ast.Measured | null {
  const blocks = body.members.filter((member): member is ast.Measured => member.$type === 'Measured');
  const fits = ({ notes, body: own }: ast.Measured): boolean => {
    const said = (word: 'date' | 'hand' | 'instrument'): string | null =>
      notes.find((note) => note[word] !== undefined)?.[word] ?? null;
    const isPlain = notes.every((note) => note.date ?? note.hand ?? note.instrument);
    const tool = said('instrument');
    return (
      own?.$cstNode !== undefined &&
      isPlain &&
      said('date') === date &&
      (said('hand') ?? '') === hand.trim() &&
      (tool === null || tool === instrument)
    );
  };
  return blocks.findLast(fits) ?? null;
}

/** An entry `_` for this cell, in a list of the same unit, read with the same instrument. */
function placeKept(
  outcome: Outcome,
  block: ast.Measured,
  one: SlotOutcome,
  cell: number,
  { unit }: Figure,
  { instrument }: MeasuredBy,
): { readonly start: number; readonly end: number } | null {
  const places = placesOf(one.axes, cell);
  for (const given of linesOf(outcome, block, one)) {
    const written = unitsWritten((given.origin.at as ast.Given).value)?.unit ?? null;
    if (given.instrument !== instrument || !isSameUnit(written, unit)) continue;
    const entry = entryOf(given.value, one.axes, places);
    if (entry && isWritten(entry) && sourceText(entry) === '_') return rangeOf(entry);
  }
  return null;
}

/** What the block says of a figure already. */
function linesOf({ binding }: Outcome, block: ast.Measured, { slot }: SlotOutcome): readonly Assignment[] {
  return binding.assignments.filter((given) => given.slot === slot.id && isInside(given.origin.at, block));
}

function isSameUnit(written: string | null, typed: string | null): boolean {
  if (written === typed) return true;
  const [one, other] = [written, typed].map((symbol) => (symbol === null ? null : standardUnits.parse(symbol)));
  return !!one && !!other && 'unit' in one && 'unit' in other && one.unit.factor === other.unit.factor;
}

function isInside(at: AstNode, whole: AstNode): boolean {
  for (let step: AstNode | undefined = at; step; step = step.$container) if (step === whole) return true;
  return false;
}

/** A list keeps places free for the readings to come: of so many cells at most. */
const mostInALine = 16;

/** Beside a list of other readings of the figure it names its place alone. */
function lineFor(
  outcome: Outcome,
  one: SlotOutcome,
  cell: number,
  { number, unit }: Figure,
  by: MeasuredBy,
  isBegun: boolean,
): string {
  const { axes } = one;
  const places = placesOf(axes, cell);
  let fixed = isBegun ? axes.length : 0;
  while (cellCount(axes.slice(fixed)) > mostInALine && fixed < axes.length) fixed += 1;
  const path = pathAt(outcome, one.slot, axes, places.slice(0, fixed));
  const list = keptFree(axes.slice(fixed), places.slice(fixed), number);
  return `${path}: ${list}${unit === null ? '' : ` ${unit}`}${withWhat(by)}`;
}

export function withWhat({ instrument }: MeasuredBy): string {
  if (instrument === null || instrument.trim() === '') return '';
  return ` with ${/^[A-Za-z_]\w*(-\w+)*$/.test(instrument) ? instrument : quoted(instrument)}`;
}

/** `[_, _, 2.4496, _]` */
function keptFree(axes: readonly Axis[], places: readonly number[], number: string | null): string {
  const [axis, ...inner] = axes;
  if (!axis) return number ?? '_';
  const entries = Array.from({ length: axis.size }, (_, place) =>
    keptFree(inner, places.slice(1), place === places[0] ? number : null),
  );
  return `[${entries.join(', ')}]`;
}

function quoted(text: string): string {
  return `"${text.trim().replaceAll(/["\\]/g, '\\$&')}"`;
}

/** Names of the places of one cell, in the order of the axes. */
export function placeNames(axes: readonly Axis[], cell: number): string[] {
  return placesOf(axes, cell).map((place, at) => String(placeName(axes[at]!, place)));
}
