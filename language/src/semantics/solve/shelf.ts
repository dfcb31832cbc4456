// Sizes of a figure that can be bought: parts that the file sees, with what is written for the figure in each.
import { parseNumber } from '@thou/shared/number/parse';
import { standardUnits, toSI } from '@thou/shared/unit/unit';
import { caps } from '@thou/shared/limits';
import type * as ast from '../../grammar/generated/ast.ts';
import type { SlotId } from '../ir.ts';
import type { Outcome } from '../plan/outcome.ts';
import type { SourceFile } from '../../grammar/file.ts';
import type { Host } from '../project.ts';

/** Where texts come from. */
export interface Texts extends Pick<Host, 'resolve'> {
  source(uri: string): SourceFile | undefined;
}

export interface OnShelf {
  readonly part: string;
  readonly size: number;
  /** One size of several in which the part comes. */
  readonly isFamily: boolean;
}

export function shelfOf(texts: Texts, uri: string, outcome: Outcome, id: SlotId): readonly OnShelf[] {
  const { slot } = outcome.slots[id]!;
  const mount = outcome.binding.schema.mounts[slot.mount]!;
  return partsSeen(texts, uri)
    .filter(({ kind }) => kind === mount.component)
    .flatMap((part) => (part.body?.members ?? []).flatMap((member) => sizesIn(part.name, member, slot.name)));
}

/** Of the file itself and of what it uses directly. */
function partsSeen(texts: Texts, uri: string): ast.Part[] {
  const own = itemsOf(texts, uri);
  const used = own.flatMap((item) => {
    if (item.$type !== 'Use' || item.path === undefined) return [];
    const found = texts.resolve(uri, item.path);
    return 'uri' in found ? itemsOf(texts, found.uri) : [];
  });
  return [...own, ...used].filter((item) => item.$type === 'Part');
}

function itemsOf(texts: Texts, uri: string): ast.Item[] {
  return (texts.source(uri)?.blocks ?? []).flatMap(({ parsed }) => (parsed.item ? [parsed.item] : []));
}

function sizesIn(part: string, member: ast.Member, name: string): OnShelf[] {
  if (member.$type !== 'Given' || member.path?.steps.length !== 1 || member.path.steps[0]!.name !== name) return [];
  const { value, step } = member;
  if (!value) return [];
  if (!step) {
    const size = figureOf(value, null);
    return size === null ? [] : [{ part, size, isFamily: false }];
  }
  const by = figureOf(step, null);
  if (by === null || !(by > 0) || value.$type !== 'Binary' || value.operator !== '..') return [];
  const high = figureOf(value.right, null);
  const low = figureOf(value.left, value.right.$type === 'Quantity' ? (value.right.unit ?? null) : null);
  if (low === null || high === null) return [];
  const many = Math.min(caps.axisSize, Math.floor((high - low) / by + 1e-9) + 1);
  return Array.from({ length: Math.max(0, many) }, (_, at) => ({ part, size: low + at * by, isFamily: true }));
}

function figureOf(value: { readonly $type: string }, served: string | null): number | null {
  if (value.$type !== 'Quantity') return null;
  const { number, unit } = value as ast.Quantity;
  const symbol = unit ?? served;
  const figure = parseNumber(number);
  if (Number.isNaN(figure)) return null;
  if (symbol === null) return figure;
  const read = standardUnits.parse(symbol);
  return 'unit' in read ? toSI(figure, read.unit) : null;
}

/** The part that has just this size; null where it is one of a family, or no part has it. */
export function partOfSize(shelf: readonly OnShelf[], figure: number): string | null {
  const isAlike = ({ size }: OnShelf): boolean => Math.abs(size - figure) <= 1e-9 * Math.abs(figure);
  return shelf.find((one) => !one.isFamily && isAlike(one))?.part ?? null;
}
