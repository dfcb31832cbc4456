// What is missing for a check, and what to do about it. The sizes that would mend it are the solver's, not told here.
import type { CheckOutcome, MissingInput, Outcome } from '../semantics/plan/outcome.ts';
import type { SchemaRule } from '../semantics/schema/schema.ts';
import { pathWords } from './check-words.ts';
import { duesOf } from './due.ts';
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
  if (check.state === 'cannot-tell') return 'give or measure what is missing';
  if (check.state === 'at-risk') {
    const readings = outcome.toMeasure.filter(({ settles }) => settles.includes(check.id));
    const dues = duesOf(outcome, readings).map(
      ({ path, where }) => pathWords(path) + (where === '' ? '' : ` (${where})`),
    );
    if (dues.length > 0) return `measure ${listed(dues)}`;
  }
  if (check.state === 'accepted') return '';
  if (check.kind === 'to-size') return 'have it machined to size, or change the order';
  return check.rule ? adjustments(outcome, check.rule) : '';
}

function adjustments(outcome: Outcome, { adjust }: SchemaRule): string {
  const { slots } = outcome.binding.schema;
  let text = '';
  let verb = '';
  for (const { slot: id, even, link } of adjust) {
    const slot = slots[id];
    if (!slot) continue;
    const own = even ? 'even out' : 'change';
    const between = text === '' ? '' : link === 'then' ? ', then ' : ' or ';
    text += `${between}${own === verb && link !== 'then' ? '' : `${own} `}${pathWords(slot.path)}${wayOf(slot.features)}`;
    verb = own;
  }
  return text;
}

function wayOf(features: readonly string[]): string {
  if (features.includes('grows')) return ' (a cut only makes it larger)';
  return features.includes('falls') ? ' (a cut only makes it smaller)' : '';
}
