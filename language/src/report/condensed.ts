// What a comparison keeps of one build, so that the build itself may go: many are compared one after the other.
import { displayUnit } from '@thou/shared/number/format';
import type { CheckState, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { cellCount, held } from './cells.ts';
import { runsAlong } from './courses.ts';
import { bareText, figureOf } from './figures.ts';
import { inUnit, measureOf, numberText, numberTextsUncut, showingsIn } from './units.ts';
import type { Showing } from './units.ts';
import { lastDigit } from './writing.ts';

/** A plain record: it may come from another thread. */
export interface Condensed {
  readonly build: string;
  readonly file: string;
  /** Those that the build has; courses are left out. */
  readonly figures: ReadonlyMap<string, CondensedFigure>;
  readonly checks: ReadonlyMap<string, CheckState>;
}

export interface CondensedFigure {
  readonly isMeasure: boolean;
  readonly showing: Showing;
  readonly unit: string | null;
  readonly axes: readonly { readonly name: string; readonly size: number }[];
  /** One a cell, in SI, NaN where there is none; nothing where it is no measure. */
  readonly cells: Float64Array;
  readonly text: string;
  readonly given: boolean;
  readonly digit: number | null;
}

export function condensed(outcome: Outcome, file: string): Condensed {
  const digitOf = lastDigit(outcome);
  const figures = outcome.slots
    .filter(({ slot }) => !runsAlong(outcome, slot))
    .map((one) => [one.slot.path, condensedFigure(outcome, one, digitOf)] as const)
    .filter((entry): entry is [string, CondensedFigure] => entry[1] !== null);
  return {
    build: outcome.binding.name,
    file,
    figures: new Map(figures),
    checks: new Map(outcome.checks.map(({ id, state }) => [id, state])),
  };
}

function condensedFigure(
  outcome: Outcome,
  one: SlotOutcome,
  digitOf: (one: SlotOutcome) => number | null,
): CondensedFigure | null {
  const text = textOf(outcome, one);
  if (text === noFigure) return null;
  const [first] = showingsIn(outcome, one.slot);
  const showing = first!;
  const isMeasure = one.slot.type.is === 'measure';
  return {
    isMeasure,
    showing,
    unit: measureOf(one.slot.type) === null ? null : (showing.unit?.symbol ?? null),
    axes: one.axes.map(({ name, size }) => ({ name, size })),
    cells: Float64Array.from({ length: isMeasure ? cellCount(one.axes) : 0 }, (_, cell) => siOf(one, cell) ?? NaN),
    text,
    given: isGiven(one),
    digit: digitOf(one),
  };
}

/** As it is, but what is the same as in a build before is held once: builds of one shop have most figures in common. */
export class Shelf {
  private readonly held = new Map<string, CondensedFigure>();

  put(build: Condensed): Condensed {
    const figures = [...build.figures].map(([path, figure]) => {
      const before = this.held.get(path);
      const kept = before !== undefined && isSame(before, figure) ? before : figure;
      this.held.set(path, kept);
      return [path, kept] as const;
    });
    return { ...build, figures: new Map(figures) };
  }
}

function isSame(a: CondensedFigure, b: CondensedFigure): boolean {
  return (
    a.text === b.text &&
    a.given === b.given &&
    a.digit === b.digit &&
    a.unit === b.unit &&
    a.cells.length === b.cells.length &&
    a.axes.every(({ name }, at) => name === b.axes[at]?.name) &&
    a.cells.every((cell, at) => Object.is(cell, b.cells[at]))
  );
}

export const noFigure = '—';

/** `10.53..10.71`: least and greatest over its places. */
function textOf(outcome: Outcome, one: SlotOutcome): string {
  const count = cellCount(one.axes);
  if (count === 0) return noFigure;
  if (one.slot.type.is === 'measure') {
    const figures = Array.from({ length: count }, (_, cell) => siOf(one, cell)).filter((si) => si !== null);
    return figures.length === 0 ? noFigure : spanText(figures, showingsIn(outcome, one.slot)[0]!, isGiven(one));
  }
  const texts = new Set(Array.from({ length: count }, (_, cell) => bareText(figureOf(outcome, one, cell, 'measured'))));
  return texts.size === 1 ? [...texts][0]! : `${texts.size} kinds`;
}

function spanText(figures: readonly number[], showing: Showing, uncut: boolean): string {
  const ends = [Math.min(...figures), Math.max(...figures)].map((si) => inUnit(si, showing));
  const [from, to] = uncut ? numberTextsUncut(ends, showing) : ends.map((end) => numberText(end, showing));
  const unit = showing.unit === null ? '' : ` ${displayUnit(showing.unit.symbol)}`;
  return from === to ? `${to}${unit}` : `${from}..${to}${unit}`;
}

function isGiven(one: SlotOutcome): boolean {
  if (one.slot.sort !== 'property') return false;
  return one.states.some((state, cell) => {
    const layer = one.layerOf(cell, 'measured');
    return state !== 'missing' && layer !== null && layer !== 'formula' && layer !== 'default' && layer !== 'practice';
  });
}

function siOf(one: SlotOutcome, cell: number): number | null {
  const content = held(one.views.measured, one.axes, cell);
  return content.is === 'number' ? content.value : null;
}
