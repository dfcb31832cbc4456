/** Names, choices, places, parts and functions in an expression: all that could be meant is tried, what fits is offered. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { Ground } from '../../semantics/bind/build.ts';
import type { SlotId } from '../../semantics/ir.ts';
import { calls, functionNames } from './calls.ts';
import { everywhere, inside, ownSlot, readersOf, type Candidate } from './candidates.ts';
import type { Breathe, Offer } from './offer.ts';
import { PROBE, type Found } from './probe.ts';
import type { Trial } from './trial.ts';
import { fits, fitsText, Place } from './word-in-path.ts';

/** `written`: how the word begins. Where nothing that fits begins so, what does not fit is shown all the same, and says so. */
export async function namesAt(
  found: Found,
  trial: Trial,
  ground: Ground,
  written: string,
  breathe: Breathe,
): Promise<Offer[]> {
  const step = found.node as ast.RefStep;
  const ref = step.$container as ast.Ref;
  const place = new Place(ref, ref.steps.indexOf(step), step);
  place.put([]);
  trial.settle();
  const own = ownSlot(found.node, trial);
  const kept = own === null ? new Set<SlotId>() : readersOf(own, trial.draft);
  if (step.call) return functionNames(ground).filter(({ label }) => fits(place, [label], trial));
  const candidates = place.at > 0 ? inside(place, trial, kept) : everywhere(trial, ground, kept, found.node);
  const known = new Map<string, boolean>();
  const others = keysBeside(ref);
  const fitting: Candidate[] = [];
  for (const [at, candidate] of candidates.entries()) {
    if (at % 16 === 15) await breathe();
    const { label, steps, text, alike } = candidate;
    if (others.has(label) || (alike !== undefined && isKey(ref))) continue;
    const seen = alike === undefined ? undefined : known.get(alike);
    const fit = text !== undefined ? fitsText(place, text, trial) : (seen ?? fits(place, steps, trial));
    if (alike !== undefined) known.set(alike, fit);
    if (fit) fitting.push(candidate);
  }
  const takesFigures = fitting.some(({ alike }) => alike !== undefined);
  const functions = place.at > 0 || !takesFigures ? [] : await calls(place, trial, fitting, kept, breathe);
  const offers = [...fitting, ...functions];
  return [...offers, ...(isKey(ref) ? [] : unfitting(candidates, offers, written))];
}

const mostUnfitting = 20;

function unfitting(candidates: readonly Candidate[], fitting: readonly Offer[], written: string): Offer[] {
  const begins = ({ label }: Offer): boolean => label.toLowerCase().startsWith(written.toLowerCase());
  if (written === '' || written === PROBE || fitting.some(begins)) return [];
  return candidates
    .filter(begins)
    .slice(0, mostUnfitting)
    .map((one) => ({ ...one, rank: 9, detail: `${one.detail ?? ''} (does not fit here)`.trim() }));
}

/** A name before a colon in a list, or in the brackets of a path: it is a place on an axis, never a figure. */
function isKey(ref: ast.Ref): boolean {
  const entry = ref.$container;
  return (
    entry?.$type === 'Entry' &&
    ((entry.item !== undefined && entry.value === ref) || entry.$container?.$type === 'PathStep')
  );
}

/** Where the word names a place in a list: those that the list names already. */
function keysBeside(ref: ast.Ref): Set<string> {
  const entry = ref.$container;
  if (entry?.$type !== 'Entry' || !entry.item || entry.value !== ref || entry.$container?.$type !== 'List')
    return new Set();
  const keys = entry.$container.entries.filter((other) => other !== entry && other.item).map(({ value }) => value);
  return new Set(keys.flatMap((key) => (key.$type === 'Ref' && key.steps.length === 1 ? [key.steps[0]!.name] : [])));
}
