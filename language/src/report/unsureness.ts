// What makes a figure unsure, and what moves it: the largest first. Reads what the language worked out; computes shares for the eye only.
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { labelOf } from '../semantics/plan/labels.ts';
import { planBuild } from '../semantics/plan/run.ts';
import type { Plan } from '../semantics/plan/run.ts';
import { stackOf } from '../semantics/certainty/ranking.ts';
import type { Stack } from '../semantics/certainty/ranking.ts';
import { countsNow } from '../semantics/plan/unsure.ts';
import type { Source } from '../semantics/plan/unsure.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { influencesOn } from '../semantics/solve/influence.ts';
import type { Influence } from '../semantics/solve/influence.ts';
import { placeInWords, words } from './place.ts';
import type { Files } from './place.ts';
import { aligned, table } from './table.ts';
import { differenceText, inUnit, numberText, showingsIn } from './units.ts';
import type { Showing } from './units.ts';
import { unitText, withUnit } from './figures.ts';
import { gridOf, styleOf } from './writing.ts';

/** One thing that a figure is unsure through. */
export interface Part {
  /** `plate[3].width`, `plate[3].width before`, `gauge-2`. */
  readonly name: string;
  readonly sort: Source['sort'];
  /** Where an earlier figure was given that does not count any more; null of what counts. */
  readonly earlier: Origin | null;
  /** Twice the standard uncertainty that it brings in alone, in SI of the figure. */
  readonly brings: number;
  /** Of the variance, 0 to 1. */
  readonly share: number;
}

const sortWords: Readonly<Record<Source['sort'], string>> = {
  tolerance: 'tolerance',
  stated: '± of the reading',
  resolution: 'what the instrument can tell apart',
  repeats: 'scatter of its repeats',
  warmth: 'difference in warmth to the instrument',
  instrument: 'uncertainty of the instrument',
};

/** The largest first; empty where nothing is unsure. */
export function partsOfUnsureness(outcome: Outcome, one: SlotOutcome, cell: number): readonly Part[] {
  const plan = planBuild(outcome.binding, undefined, outcome.texts);
  return (stacksOf(plan, one)[cell]?.parts ?? []).map(({ source, uncertainty, share }) => ({
    name: nameOf(outcome, source),
    sort: source.sort,
    earlier: earlierOrigin(plan, source),
    brings: 2 * uncertainty,
    share,
  }));
}

const stacks = new WeakMap<SlotOutcome, readonly Stack[]>();

/** Of all its cells together. */
function stacksOf(plan: Plan, one: SlotOutcome): readonly Stack[] {
  const known = stacks.get(one) ?? stackOf(plan, one.slot.id);
  stacks.set(one, known);
  return known;
}

function nameOf({ binding, slots }: Outcome, { sort, id, cells }: Source): string {
  const [first] = cells;
  if (sort === 'instrument' || first === undefined) return words(id.replace(/^with /, ''));
  const one = slots[first.slot]!;
  const name = labelOf(binding.schema, one.slot, first.cell, one.axes);
  return countsNow(first) ? name : `${name} before`;
}

function earlierOrigin(plan: Plan, { sort, cells }: Source): Origin | null {
  const [first] = cells;
  if (sort === 'instrument' || first === undefined || countsNow(first)) return null;
  return plan.sourceAt(first.slot, first.speaker)?.source.origin ?? null;
}

/** `width[3] (tolerance) ± 0.0003 in, 71 %`: one line each, what is small told together. An earlier figure is told with its place in the text. */
export function unsureLines(
  outcome: Outcome,
  one: SlotOutcome,
  cell: number,
  { most, files }: { readonly most: number; readonly files: Files },
): string[] {
  const parts = partsOfUnsureness(outcome, one, cell);
  const [showing] = showingsIn(outcome, one.slot);
  const shown = parts.slice(0, most);
  const rows = shown.map(({ name, sort, earlier, brings, share }) => [
    name,
    `± ${difference(brings, showing!)}`,
    `${percent(share)} %`,
    [sortWords[sort], inBrackets(placeInWords(files.placeOf(earlier)))].join(' ').trim(),
  ]);
  const rest = parts.slice(most).reduce((sum, { share }) => sum + share, 0);
  const more = parts.length > most ? [`and ${parts.length - most} more, ${percent(rest)} % together`] : [];
  return [...table(rows, ['left', 'left', 'right', 'left']), ...more];
}

function inBrackets(place: string): string {
  return place === '' ? '' : `(${place})`;
}

function percent(share: number): string {
  const whole = Math.round(share * 100);
  return whole === 0 && share > 0 ? 'under 1' : String(whole);
}

function difference(si: number, showing: Showing): string {
  return [differenceText(inUnit(si, showing, 'difference'), showing), unitText(showing)].join(' ').trim();
}

const mostParts = 24;
const mostMoving = 24;

/** Two tables: what makes it unsure, and what it does when each figure under it grows by one step. */
export function sensitivityLines(outcome: Outcome, one: SlotOutcome, cell: number, files: Files): string[] {
  const parts = unsureLines(outcome, one, cell, { most: mostParts, files }).map((line) => `  ${line}`);
  const plan = planBuild(outcome.binding, undefined, outcome.texts);
  const influences = influencesOn(plan, one.slot.id, cell, (slot, at) => gridOf(styleOf(outcome, slot, at)).step);
  return [
    '',
    'What makes it unsure',
    ...(parts.length === 0 ? ['  Nothing under it has a tolerance or an uncertainty.'] : parts),
    '',
    'What moves it, the strongest for its size first',
    ...(influences.length === 0 ? ['  Nothing under it is given.'] : influenceTable(outcome, one, influences)),
  ];
}

function influenceTable(outcome: Outcome, one: SlotOutcome, influences: readonly Influence[]): string[] {
  const [showing] = showingsIn(outcome, one.slot);
  const shown = influences.slice(0, mostMoving);
  const rows = shown.map(({ slot, cell, at, step, by, relative }) => {
    const input = outcome.slots[slot]!;
    const [own] = showingsIn(outcome, input.slot);
    return [
      `  ${labelOf(outcome.binding.schema, input.slot, cell, input.axes)}`,
      withUnit(at, own!),
      `+ ${difference(step, own!)}`,
      signed(by, showing!),
      relative === null ? '' : `${numberText(relative, { unit: null, decimals: 2 })} % for 1 %`,
    ];
  });
  const figures = aligned(
    rows.map((row) => row[1]!),
    'point',
  );
  const more = influences.length - shown.length;
  const head = ['', 'now', 'grows by', 'moves it by', ''];
  return [
    ...table(
      [head, ...rows.map((row, at) => [row[0]!, figures[at]!, row[2]!, row[3]!, row[4]!])],
      ['left', 'left', 'left', 'right', 'right'],
    ),
    ...(more > 0 ? [`  and ${more} more`] : []),
  ];
}

/** Two significant figures: a change is told as such, with its sign. */
function signed(si: number, showing: Showing): string {
  const text = differenceText(Math.abs(inUnit(si, showing, 'difference')), { ...showing, decimals: null });
  return `${si < 0 ? '-' : '+'}${text} ${unitText(showing)}`.trimEnd();
}
