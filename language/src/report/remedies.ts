// What is missing for a check, and what to do about it. The sizes that would mend it are the solver's, not told here.
import type { CheckOutcome, MissingInput, Outcome } from '../semantics/plan/outcome.ts';
import { isOpenByEarlier, shareOf } from '../semantics/due/settling.ts';
import type { AdjustTarget } from '../semantics/schema/schema.ts';
import { adjustsFor } from '../semantics/solve/targets.ts';
import { pathWords, worstOf } from './check-words.ts';
import { duesOf } from './due.ts';
import { slipOfPen } from './misread.ts';
import { listed } from './place.ts';

/** What is missing for a check, each once. */
export function missingOf(check: CheckOutcome): MissingInput[] {
  const byLabel = new Map<string, MissingInput>();
  for (const cell of check.cells) for (const input of cell.missing) byLabel.set(input.label, input);
  return [...byLabel.values()];
}

export function missingText({ label, why, stale }: MissingInput): string {
  if (why !== null) return `${label} (${why})`;
  return stale ? `${label} (cut since it was measured)` : label;
}

export function whatToDo(outcome: Outcome, check: CheckOutcome): string {
  const change = check.kind === 'to-size' ? toSize(outcome, check) : adjustments(outcome, check);
  switch (check.state) {
    case 'cannot-tell':
      return 'give or measure what is missing';
    case 'accepted':
      return '';
    case 'at-risk':
      return readings(outcome, check) || finerReading(outcome, check, change);
    default:
      return change;
  }
}

function toSize(outcome: Outcome, check: CheckOutcome): string {
  const slip = check.state === 'out-of-limits' ? slipOfPen(outcome, check) : '';
  return `${slip === '' ? '' : `${slip}; else `}have it machined to size, or change the order`;
}

/** Readings that would settle a risk, what settles most of it first; empty where all is measured. */
function readings(outcome: Outcome, check: CheckOutcome): string {
  const wanted = outcome.toMeasure.filter(({ settles }) => settles.includes(check.id));
  const dues = duesOf(outcome, wanted)
    .map((due) => ({ ...due, share: shareOf(outcome, check, due.slot, due.cells) }))
    .sort((a, b) => b.share - a.share);
  const settling = dues.filter(({ share }) => share > 0);
  // what brings in nothing settles nothing, as long as there is something else
  const texts = (settling.length > 0 ? settling : dues).map(({ path, where, share }) => {
    const about = [where, settledWords(share, dues.length)].filter((part) => part !== '').join('; ');
    return about === '' ? pathWords(path) : `${pathWords(path)} (${about})`;
  });
  return texts.length === 0 ? '' : `measure ${listed(texts)}`;
}

/** Not where there is one thing to measure. */
function settledWords(share: number, things: number): string {
  return things < 2 || share < 0.005 ? '' : `${Math.round(share * 100)} % of what is unsure`;
}

function finerReading(outcome: Outcome, check: CheckOutcome, change: string): string {
  if (isOpenByEarlier(outcome, check))
    return ['no reading of today settles it: what it was before is not known well enough', change]
      .filter((part) => part !== '')
      .join('; ');
  const finer = 'read it again with a finer instrument';
  return change === '' ? finer : `${finer}; else ${change}`;
}

function adjustments({ binding: { schema } }: Outcome, check: CheckOutcome): string {
  const { slots } = schema;
  const adjusts = adjustsFor(schema, check);
  if (isPastMending(check, adjusts)) return 'order another size, or take another part: a cut only makes it worse';
  let text = '';
  let verb = '';
  for (const { slot: id, even, link } of adjusts) {
    const slot = slots[id];
    if (!slot) continue;
    const own = even ? 'even out' : 'change';
    const between = text === '' ? '' : link === 'then' ? ', then ' : ' or ';
    text += `${between}${own === verb && link !== 'then' ? '' : `${own} `}${pathWords(slot.path)}${wayOf(slot.features)}`;
    verb = own;
  }
  return text;
}

/** A cut would take the very figure that is checked further out. */
function isPastMending({ slot, cells, state }: CheckOutcome, adjusts: readonly AdjustTarget[]): boolean {
  const worst = worstOf(cells.filter((cell) => cell.state === state));
  if (slot === null || worst === null || worst.value === null || state !== 'out-of-limits') return false;
  if (adjusts.length !== 1 || adjusts[0]!.slot !== slot.id) return false;
  const isLow = worst.low !== null && worst.value < worst.low;
  return slot.features.includes(isLow ? 'falls' : 'grows');
}

function wayOf(features: readonly string[]): string {
  if (features.includes('grows')) return ' (a cut only makes it larger)';
  return features.includes('falls') ? ' (a cut only makes it smaller)' : '';
}
