// Turns changed figures into changes of the text: in the place where a figure is given, as a line of the build, or as work still to be done.
import { blockRootOf, rangeOf, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Axis } from '../../semantics/evaluate/value.ts';
import { placeName } from '../../semantics/plan/axes.ts';
import { placesOf } from '../../semantics/plan/labels.ts';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import type { Mount, Slot } from '../../semantics/schema/schema.ts';
import type { Move } from '../../semantics/solve/records.ts';
import { insertion, offsetOf, type Edit } from './edit.ts';
import { numberIn, quantityIn, styleOf, type Style } from '../../report/writing.ts';

/** Null where the build's own text is not in this file. */
export function editsFor(outcome: Outcome, source: SourceFile, moves: readonly Move[]): readonly Edit[] | null {
  const item = outcome.binding.origin.at;
  if (outcome.binding.origin.uri !== source.uri || (item.$type !== 'Build' && item.$type !== 'Variant')) return null;
  const { body } = item as ast.Build | ast.Variant;
  if (!body?.$cstNode) return null;
  const base = offsetOf(source, blockRootOf(body));
  const edits: Edit[] = [];
  const given: string[] = [];
  const work: string[] = [];
  for (const move of moves) {
    const one = outcome.slots[move.slot]!;
    const layers = [...move.to.keys()].map((cell) => one.layerOf(cell, 'measured'));
    if (layers.some((layer) => layer === 'machining' || layer === 'measured')) {
      work.push(`${one.slot.path}: ${valueText(outcome, move)}`);
      continue;
    }
    const { inPlace, left } = placed(outcome, source, base, body, move);
    edits.push(...inPlace);
    given.push(...linesFor(outcome, { ...move, to: left, whole: move.whole && inPlace.length === 0 }));
  }
  if (given.length > 0) edits.push(insertion(source, base, body, lastGiven(body), given));
  if (work.length > 0) {
    const block = `machining "Still to be done" { ${work.join(', ')} }`;
    edits.push(insertion(source, base, body, lastBlock(outcome, body) ?? lastGiven(body), [block]));
  }
  return edits;
}

/** Another part in the place of the one fitted; null where none is fitted by name in this build, or its figure was changed there. */
export function partInstead(
  outcome: Outcome,
  source: SourceFile,
  { slot: id, to }: Move,
  name: string,
): readonly Edit[] | null {
  const one = outcome.slots[id]!;
  const { slot } = one;
  const fitted = outcome.binding.parts.findLast(({ mount, selector }) => mount === slot.mount && selector.length === 0);
  const isItsFigure = [...to.keys()].every((cell) => one.sourceOf(cell, 'measured')?.layer === 'part');
  if (!fitted || !isItsFigure || fitted.layer === 'part' || fitted.origin.uri !== source.uri) return null;
  const { at } = fitted.origin;
  const base = offsetOf(source, blockRootOf(at));
  const { start, end } = rangeOf(at);
  const text = /^[A-Za-z_]\w*(-\w+)*$/.test(name) ? name : `"${name}"`;
  return [{ start: base + start, end: base + end, text }];
}

/** Figures of this body that speak in no other cells are replaced where they stand. */
function placed(
  outcome: Outcome,
  source: SourceFile,
  base: number,
  body: ast.Body,
  move: Move,
): { readonly inPlace: readonly Edit[]; readonly left: ReadonlyMap<number, number> } {
  const one = outcome.slots[move.slot]!;
  const left = new Map(move.to);
  const inPlace: Edit[] = [];
  const bySource = Map.groupBy(one.states.keys(), (cell) => one.sourceOf(cell, 'measured'));
  for (const [assignment, cells] of bySource) {
    const figures = new Set(cells.map((cell) => move.to.get(cell)));
    const [figure] = figures;
    if (assignment === null || figures.size !== 1 || figure === undefined) continue;
    const change: Change = { figure, from: move.from.get(cells[0]!)!, style: styleOf(outcome, move.slot, cells[0]!) };
    const edit = replaced(assignment.origin, source, base, body, change);
    if (edit === null) continue;
    inPlace.push(edit);
    for (const cell of cells) left.delete(cell);
  }
  return { inPlace, left };
}

interface Change {
  readonly figure: number;
  readonly from: number;
  readonly style: Style;
}

/** The figure where it stands, if it is one figure of this body. */
function replaced(
  { uri, at }: { readonly uri: string; readonly at: { readonly $type: string } },
  source: SourceFile,
  base: number,
  body: ast.Body,
  change: Change,
): Edit | null {
  const { figure, style } = change;
  if (uri !== source.uri || at.$type !== 'Given' || !isInside(at as ast.Given, body)) return null;
  const { value, step } = at as ast.Given;
  if (!value || step) return null;
  const range = rangeOf(value);
  const at0 = base + range.start;
  if (value.$type === 'Quantity') {
    const number = rangeOf({ node: value, property: 'number' });
    if (value.unit !== undefined || style.unit === null)
      return { start: base + number.start, end: base + number.end, text: numberIn(figure, style) };
  }
  if (value.$type === 'Binary' && value.left.$type === 'Quantity' && value.right.$type === 'Quantity') {
    const shifted = shiftedBand(value, base, change);
    if (shifted) return shifted;
  }
  return { start: at0, end: base + range.end, text: quantityIn(figure, style) };
}

/** `a ± b` keeps its margin, `a..b` its width. */
function shiftedBand(value: ast.Binary, base: number, { figure, from, style }: Change): Edit | null {
  const { left, right, operator } = value;
  if (left.$type !== 'Quantity' || right.$type !== 'Quantity') return null;
  const number = (one: ast.Quantity) => rangeOf({ node: one, property: 'number' });
  const [first, second] = [number(left), number(right)];
  if (operator === '±' || operator === '+-')
    return { start: base + first.start, end: base + first.end, text: numberIn(figure, style) };
  const [low, high] = [Number(left.number), Number(right.number)];
  if (operator !== '..' || !Number.isFinite(low) || !Number.isFinite(high)) return null;
  const by = (figure - from) / (style.unit?.factor ?? 1);
  const written = (end: number): string => numberIn((end + by) * (style.unit?.factor ?? 1), style);
  const text = blockRootOf(value).text.slice(first.end, second.start);
  return { start: base + first.start, end: base + second.end, text: `${written(low)}${text}${written(high)}` };
}

function isInside(at: ast.Given, body: ast.Body): boolean {
  for (let step: { $container?: unknown } | undefined = at; step; step = step.$container as typeof step)
    if (step === body) return true;
  return false;
}

/** A line for the whole, or one for every cell; cells that lie together and become alike have one. */
function linesFor(outcome: Outcome, move: Move): string[] {
  if (move.to.size === 0) return [];
  const one = outcome.slots[move.slot]!;
  const style = styleOf(outcome, move.slot, [...move.to.keys()][0]!);
  if (move.whole) return [`${one.slot.path}: ${quantityIn([...move.to.values()][0]!, style)}`];
  const leaves = [...move.to].map(([cell, figure]) => ({ places: placesOf(cell, one.axes), figure }));
  return together(one.axes, leaves, style, []).map(
    ({ places, figure }) => `${pathAt(outcome, one.slot, one.axes, places)}: ${quantityIn(figure, style)}`,
  );
}

function together(
  axes: readonly Axis[],
  leaves: readonly Leaf[],
  style: Style,
  outer: readonly number[],
): readonly Leaf[] {
  const size = axes.reduce((product, one) => product * one.size, 1);
  const texts = new Set(leaves.map(({ figure }) => numberIn(figure, style)));
  if (leaves.length === size && texts.size === 1 && (outer.length > 0 || axes.length === 0))
    return [{ places: outer, figure: leaves[0]!.figure }];
  return [...Map.groupBy(leaves, ({ places }) => places[0]!)].flatMap(([place, some]) => {
    const below = some.map(({ places, figure }) => ({ places: places.slice(1), figure }));
    return together(axes.slice(1), below, style, [...outer, place]);
  });
}

/** `plate[3].width`, `plate.width[3]`: places stand where their axes are declared; inner ones may be left out. */
export function pathAt({ binding }: Outcome, slot: Slot, axes: readonly Axis[], places: readonly number[]): string {
  const names: string[] = [];
  let done = 0;
  const push = (name: string, upTo: number): void => {
    const keys = axes.slice(done, Math.min(upTo, places.length)).map((axis, at) => placeName(axis, places[done + at]!));
    done = Math.max(done, upTo);
    names.push(keys.length === 0 ? name : `${name}[${keys.join(', ')}]`);
  };
  const mounts: Mount[] = [];
  for (let at: number | null = slot.mount; at !== null; at = binding.schema.mounts[at]!.parent)
    mounts.unshift(binding.schema.mounts[at]!);
  for (const mount of mounts) if (mount.path !== '') push(mount.name, mount.axes.length);
  push(slot.name, axes.length);
  return names.join('.');
}

/** One figure, or a list with a key for every cell that changes. */
function valueText(outcome: Outcome, move: Move): string {
  const one = outcome.slots[move.slot]!;
  const style = styleOf(outcome, move.slot, [...move.to.keys()][0]!);
  if (move.whole) return quantityIn([...move.to.values()][0]!, style);
  const leaves = [...move.to].map(([cell, figure]) => ({ places: placesOf(cell, one.axes), figure }));
  const tree = branches(one.axes, leaves, style);
  return style.unit === null ? tree : `${tree} ${style.unit.symbol}`;
}

interface Leaf {
  readonly places: readonly number[];
  readonly figure: number;
}

function branches(axes: readonly Axis[], leaves: readonly Leaf[], style: Style): string {
  const [axis, ...inner] = axes;
  if (axis === undefined) return numberIn(leaves[0]!.figure, style);
  const size = axes.reduce((product, one) => product * one.size, 1);
  const texts = new Set(leaves.map(({ figure }) => numberIn(figure, style)));
  const isWholeBranch = leaves.length === size && texts.size === 1;
  if (isWholeBranch) return [...texts][0]!;
  const byPlace = Map.groupBy(leaves, ({ places }) => places[0]!);
  const entries = [...byPlace].map(([place, some]) => {
    const below = some.map(({ places, figure }) => ({ places: places.slice(1), figure }));
    return `${placeName(axis, place)}: ${branches(inner, below, style)}`;
  });
  return `[${entries.join(', ')}]`;
}

function lastGiven(body: ast.Body): ast.Member | null {
  return body.members.findLast(({ $type, $cstNode }) => $type === 'Given' && $cstNode !== undefined) ?? null;
}

/** The block of this body that runs last: what is still to be done comes behind it. */
export function lastBlock(outcome: Outcome, body: ast.Body): ast.Member | null {
  const blocks = body.members.filter(({ $type }) => $type === 'Machining' || $type === 'Measured');
  const inOrder = outcome.binding.history.map(({ origin }) => origin.at);
  const last = inOrder.findLast((at) => blocks.includes(at as ast.Member));
  return (last as ast.Member | undefined) ?? blocks.at(-1) ?? null;
}
