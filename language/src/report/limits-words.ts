// Whose limit speaks, in words, and where it stands.
import type { CheckCell, CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { pathWords, showingOfCheck } from './check-words.ts';
import { limitsText, unitText } from './figures.ts';
import { placeInWords } from './place.ts';
import type { Files } from './place.ts';

export function limitsLine(outcome: Outcome, check: CheckOutcome, worst: CheckCell | null, files: Files): string {
  const showing = showingOfCheck(outcome, check);
  const whose = whoseLimit(outcome, check, files);
  if (!worst || (worst.low === null && worst.high === null)) return whose;
  const text = opened(limitsText(worst.low ?? -Infinity, worst.high ?? Infinity, showing), check);
  return [`${text} ${unitText(showing)}`.trim(), whose].filter((part) => part !== '').join(', ');
}

/** `> 0.0`, where what was demanded leaves the limit itself out. */
function opened(text: string, { rule, expect }: CheckOutcome): string {
  const [only, ...more] = (expect ?? rule)?.demand.comparisons ?? [];
  if (only === undefined || more.length > 0) return text;
  return text.replace('≥', only.lowOpen ? '>' : '≥').replace('≤', only.highOpen ? '<' : '≤');
}

/** `part PL-3 (shelf.thou:12)`. */
function whoseLimit(outcome: Outcome, check: CheckOutcome, files: Files): string {
  if (!check.limitFrom) return '';
  const place = placeInWords(files.placeOf(limitOrigin(outcome, check)));
  const whose = limitOwner(check);
  return place === '' ? whose : `${whose} (${place})`;
}

function limitOwner({ kind, limitFrom }: CheckOutcome): string {
  if (!limitFrom) return '';
  if (kind === 'to-size') return 'the size asked for';
  switch (limitFrom.layer) {
    case 'rule':
      return 'the rule itself';
    case 'expect':
      return 'expected in the build';
    case 'part':
      return `part ${limitFrom.words}`;
    case 'build':
    case 'variant':
      return `given in ${limitFrom.words}`;
    case 'default':
    case 'mount-default':
      return pathWords(limitFrom.words);
    default:
      return limitFrom.words;
  }
}

/** A size asked for stands where it was ordered or specified. */
function limitOrigin(outcome: Outcome, { kind, slot, limitFrom }: CheckOutcome): Origin | null {
  const asked = kind === 'to-size' && slot !== null && outcome.slots[slot.id];
  return (asked && asked.sourceOf(0, 'ordered')?.origin) || (limitFrom?.origin ?? null);
}

export function acceptLine(worst: CheckCell | null, files: Files): string {
  if (!worst?.accept) return '';
  const place = placeInWords(files.placeOf(worst.accept.origin));
  return place === '' ? worst.accept.because : `${worst.accept.because} (${place})`;
}
