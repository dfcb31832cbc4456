// The same builds in two states of a file: which given figures are others now, what follows, which checks changed for it.
import type { At, Place } from '@thou/shared/result/contract';
import type { BuildDiff, ChangedCheck, ChangedInput, DiffResult, Mistake, MovedFigure } from '@thou/shared/result/diff';
import { resultFormat } from '@thou/shared/result/contract';
import type { View } from '../semantics/ir.ts';
import { worstFirst } from '../semantics/check/verdict.ts';
import type { CheckOutcome, CheckState, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { address, cellCount, held, placeName, placesOf } from './cells.ts';
import { bareText, figureOf } from './figures.ts';
import { runsAlong } from './courses.ts';
import { message } from './findings.ts';
import type { Files } from './place.ts';
import { inUnit, measureOf, showingsIn } from './units.ts';
import { lastDigit } from './writing.ts';

/** One state of a file, under the name that the reader gave it. */
export interface State {
  readonly name: string;
  readonly outcomes: readonly Outcome[];
  /** Of weight "error", in its text. */
  readonly mistakes: readonly Omit<Mistake, 'in'>[];
  readonly files: Files;
}

export function diffResult(old: State, now: State, thou: string): DiffResult {
  const [builds, mistakes] = [buildDiffs(old, now), mistakesOf(old.mistakes, now.mistakes)];
  return { format: resultFormat, thou, old: old.name, new: now.name, builds, same: null, mistakes };
}

/** Those that are in one of the states only, wherever they stand in it. */
export function mistakesOf(old: State['mistakes'], now: State['mistakes']): Mistake[] {
  const said = ({ code, message: words }: Omit<Mistake, 'in'>): string => `${code} ${words}`;
  const [before, after] = [new Set(old.map(said)), new Set(now.map(said))];
  return [
    ...now.filter((one) => !before.has(said(one))).map((one) => ({ ...one, in: 'new' as const })),
    ...old.filter((one) => !after.has(said(one))).map((one) => ({ ...one, in: 'old' as const })),
  ];
}

type Readable = Pick<State, 'outcomes' | 'files'>;

export function buildDiffs(old: Readable, now: Readable): BuildDiff[] {
  const [before, after] = [old, now].map(({ outcomes }) => new Map(outcomes.map((one) => [one.binding.name, one])));
  const names = [...new Set([...before!.keys(), ...after!.keys()])];
  return names.map((name) => buildDiff(name, before!.get(name), after!.get(name), old.files, now.files));
}

export function isChanged({ in: where, inputs, figures, checks }: BuildDiff): boolean {
  return where !== 'both' || inputs.length + figures.length + checks.length > 0;
}

function buildDiff(
  name: string,
  old: Outcome | undefined,
  now: Outcome | undefined,
  oldFiles: Files,
  newFiles: Files,
): BuildDiff {
  const nowhere = { file: null, oldFile: null };
  if (!now) return { name, ...nowhere, in: 'old', inputs: [], figures: [], checks: [] };
  if (!old) return { name, ...nowhere, in: 'new', inputs: [], figures: [], checks: troublesOf(now, newFiles) };
  const pairs = pairsOf(old, now);
  return {
    name,
    ...nowhere,
    in: 'both',
    inputs: pairs.flatMap((pair) => changedInputs(pair, oldFiles, newFiles)),
    figures: pairs.flatMap(movedFigure),
    checks: changedChecks(old, now, oldFiles, newFiles),
  };
}

/** One slot in both states; null where there is none. */
interface Pair {
  readonly old: Side | null;
  readonly now: Side | null;
}
interface Side {
  readonly outcome: Outcome;
  readonly one: SlotOutcome;
}

function pairsOf(old: Outcome, now: Outcome): readonly Pair[] {
  const sides = (outcome: Outcome) => new Map(outcome.slots.map((one) => [one.slot.path, { outcome, one }]));
  const [before, after] = [sides(old), sides(now)];
  return [...new Set([...after.keys(), ...before.keys()])].map((path) => {
    return { old: before.get(path) ?? null, now: after.get(path) ?? null };
  });
}

const views: readonly View[] = ['measured', 'ordered', 'specified', 'before'];

function changedInputs(pair: Pair, oldFiles: Files, newFiles: Files): ChangedInput[] {
  const countIn = (side: Side | null): number => (side === null ? 0 : cellCount(side.one.axes));
  const cells = Math.max(countIn(pair.old), countIn(pair.now));
  const changed = Array.from({ length: cells }, (_, cell) => cell).flatMap((cell): ChangedInput[] => {
    const view = views.find((name) => isAnother(pair, cell, name));
    if (view === undefined) return [];
    const place =
      (pair.now && placeIn(pair.now, cell, view, newFiles)) ?? (pair.old && placeIn(pair.old, cell, view, oldFiles));
    return [
      {
        ...called(cell < countIn(pair.now) ? pair.now! : pair.old!, cell),
        old: textIn(pair.old, cell, view),
        new: textIn(pair.now, cell, view),
        view,
        place,
      },
    ];
  });
  const [first] = changed;
  const isOne = changed.length === cells && cells > 1 && changed.every((one) => isSameChange(one, first!));
  return isOne ? [{ ...first!, at: {}, label: first!.path }] : changed;
}

function isSameChange(a: ChangedInput, b: ChangedInput): boolean {
  return a.old === b.old && a.new === b.new && a.view === b.view && a.place?.line === b.place?.line;
}

/** Another figure, or another tolerance; not the same in another unit. */
function isAnother({ old, now }: Pair, cell: number, view: View): boolean {
  const [was, is] = [textIn(old, cell, view), textIn(now, cell, view)];
  if (was === is) return false;
  if (was === null || is === null) return true;
  const [from, to] = [old!, now!].map(({ one }) => held(one.views[view], one.axes, cell));
  if (from!.is !== 'number' || to!.is !== 'number' || now!.one.slot.type.is !== 'measure') return true;
  const apart = (a: number | null, b: number | null): boolean =>
    a === null || b === null ? a !== b : Math.abs(a - b) > 1e-12 * Math.abs(a);
  return apart(from!.value, to!.value) || apart(from!.low, to!.low) || apart(from!.high, to!.high);
}

/** As written; null where nobody gave the cell a figure. */
function textIn(side: Side | null, cell: number, view: View): string | null {
  if (side === null || cell >= cellCount(side.one.axes) || !isGiven(side.one, cell, view)) return null;
  return bareText(figureOf(side.outcome, side.one, cell, view));
}

function isGiven(one: SlotOutcome, cell: number, view: View): boolean {
  const layer = one.layerOf(cell, view);
  return layer !== null && layer !== 'formula' && layer !== 'default';
}

function placeIn({ one }: Side, cell: number, view: View, files: Files): Place | null {
  return files.placeOf(one.sourceOf(cell, view)?.origin ?? null);
}

/** Where a figure that follows from others moved furthest: by more than the last digit that is shown. */
function movedFigure({ old, now }: Pair): MovedFigure[] {
  if (old === null || now === null || runsAlong(now.outcome, now.one.slot)) return [];
  const count = cellCount(now.one.axes);
  if (cellCount(old.one.axes) !== count) return [];
  if (now.one.slot.type.is !== 'measure') return movedWords(old, now, count);
  const digit = lastDigit(now.outcome)(now.one) ?? 0;
  let furthest: { readonly cell: number; readonly by: number } | null = null;
  for (let cell = 0; cell < count; cell++) {
    if (isGiven(old.one, cell, 'measured') || isGiven(now.one, cell, 'measured')) continue;
    const [from, to] = [numberIn(old.one, cell), numberIn(now.one, cell)];
    if (from === null && to === null) continue;
    const by = from === null || to === null ? Infinity : Math.abs(to - from);
    const least = Math.max(digit * 0.999, 1e-9 * Math.abs(from ?? to!));
    if (by > least && (furthest === null || by > furthest.by)) furthest = { cell, by };
  }
  return furthest === null ? [] : [moved(old, now, furthest.cell, furthest.by)];
}

/** What follows and is no figure, such as a choice or limits: the first place where it is another. */
function movedWords(old: Side, now: Side, count: number): MovedFigure[] {
  const saidIn = ({ outcome, one }: Side, cell: number): string => bareText(figureOf(outcome, one, cell, 'measured'));
  for (let cell = 0; cell < count; cell++) {
    if (isGiven(old.one, cell, 'measured') || isGiven(now.one, cell, 'measured')) continue;
    const [was, is] = [saidIn(old, cell), saidIn(now, cell)];
    if (was === is) continue;
    const words = { old: was, new: is, unit: null, values: [null, null], uncertainty: null, beyond: true } as const;
    return [{ ...called(now, cell), ...words }];
  }
  return [];
}

function numberIn(one: SlotOutcome, cell: number): number | null {
  const content = held(one.views.measured, one.axes, cell);
  return content.is === 'number' ? content.value : null;
}

function moved(old: Side, now: Side, cell: number, by: number): MovedFigure {
  const [showing] = showingsIn(now.outcome, now.one.slot);
  const unsure = Math.max(...[old, now].map(({ one }) => one.uncertainty()[cell] ?? 0));
  const inShown = (si: number | null): number | null => (si === null ? null : inUnit(si, showing!));
  return {
    ...called(now, cell),
    old: bareText(figureOf(old.outcome, old.one, cell, 'measured')),
    new: bareText(figureOf(now.outcome, now.one, cell, 'measured')),
    unit: measureOf(now.one.slot.type) === null ? null : (showing!.unit?.symbol ?? null),
    values: [inShown(numberIn(old.one, cell)), inShown(numberIn(now.one, cell))],
    uncertainty: unsure > 0 ? inUnit(2 * unsure, showing!, 'difference') : null,
    beyond: by > 2 * unsure,
  };
}

function called({ outcome, one }: Side, cell: number): { path: string; at: At; label: string } {
  const places = placesOf(one.axes, cell);
  return {
    path: one.slot.path,
    at: Object.fromEntries(one.axes.map((axis, at) => [axis.name, placeName(axis, places[at]!)])),
    label: address(outcome.binding.schema, one.slot, one.axes, places),
  };
}

const inTrouble: ReadonlySet<CheckState> = new Set(['out-of-limits', 'at-risk']);

/** Of a build that was not there before. */
function troublesOf(now: Outcome, files: Files): ChangedCheck[] {
  const found = now.checks.filter(({ state }) => inTrouble.has(state));
  return found.map((check) => {
    return { id: check.id, old: null, new: check.state, worse: true, message: message(now, check, files) };
  });
}

function changedChecks(old: Outcome, now: Outcome, oldFiles: Files, newFiles: Files): ChangedCheck[] {
  const [before, after] = [old, now].map(({ checks }) => new Map(checks.map((check) => [check.id, check])));
  return [...new Set([...after!.keys(), ...before!.keys()])].flatMap((id): ChangedCheck[] => {
    const [was, is] = [before!.get(id) ?? null, after!.get(id) ?? null];
    if (was?.state === is?.state) return [];
    return [
      {
        id,
        old: was?.state ?? null,
        new: is?.state ?? null,
        worse: trouble(is) > trouble(was),
        message: is === null ? message(old, was!, oldFiles) : message(now, is, newFiles),
      },
    ];
  });
}

/** Greater where it is nearer to being out; what is not there is no trouble. */
function trouble(check: CheckOutcome | null): number {
  const state: CheckState = check?.state ?? 'not-applicable';
  return worstFirst.length - worstFirst.indexOf(state);
}
