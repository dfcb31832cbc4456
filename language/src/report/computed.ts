// What a line that is written as a formula comes to, and the figure that an expectation is about: what stands beside them in the editor.
import type { Assignment } from '../semantics/bind/binding.ts';
import type { Expr } from '../semantics/ir.ts';
import type { CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { showingOfCheck } from './check-words.ts';
import { withUnit } from './figures.ts';
import { showingsIn, type Showing } from './units.ts';

export interface Computed {
  /** It stands behind this. */
  readonly at: Origin;
  /** `9.2350 in`, or the least and the greatest of several; null where nothing comes of it. Worked out when it is asked for. */
  readonly text: () => string | null;
}

export function computedIn(outcome: Outcome): readonly Computed[] {
  return [...ofFormulas(outcome), ...ofExpectations(outcome)];
}

/** Lines of the build itself: what a part or practice works out is not written here. */
function ofFormulas(outcome: Outcome): Computed[] {
  return outcome.binding.assignments
    .filter(({ part, layer, value }) => part === null && ownLayers.has(layer) && !isWrittenOut(value))
    .map((assignment) => ({
      at: { uri: assignment.origin.uri, at: assignment.value.at ?? assignment.origin.at },
      text: () =>
        spanText(figuresOf(outcome, assignment), showingsIn(outcome, outcome.slots[assignment.slot]!.slot)[0]!),
    }));
}

const ownLayers: ReadonlySet<string> = new Set(['build', 'variant', 'machining', 'measured']);

/** A figure, or a list of figures, says itself what it comes to. */
function isWrittenOut(value: Expr): boolean {
  switch (value.op) {
    case 'list':
      return value.entries.every((entry) => isWrittenOut(entry.value)) && (!value.others || isWrittenOut(value.others));
    case 'toleranced':
      return isWrittenOut(value.nominal);
    case 'negate':
      return isWrittenOut(value.of);
    case 'constant':
    case 'missing':
    case 'limits':
    case 'table':
    case 'repeated':
    case 'curve':
      return true;
    default:
      return false;
  }
}

function figuresOf(outcome: Outcome, assignment: Assignment): number[] {
  const one = outcome.slots[assignment.slot]!;
  return one.states.flatMap((_, cell) =>
    one.historyOf(cell).flatMap(({ source, value }) => (source === assignment ? [value] : [])),
  );
}

function ofExpectations(outcome: Outcome): Computed[] {
  return outcome.checks.flatMap((check) => {
    const { expect } = check;
    const of = expect?.demand.comparisons[0]?.value;
    if (!expect || expect.inherited || !of?.at || isWrittenOut(of)) return [];
    return [
      {
        at: { uri: expect.origin.uri, at: of.at },
        text: () => spanText(valuesOf(check), showingOfCheck(outcome, check)),
      },
    ];
  });
}

function valuesOf({ cells }: CheckOutcome): number[] {
  return cells.flatMap(({ value }) => (value === null ? [] : [value]));
}

function spanText(figures: readonly number[], showing: Showing): string | null {
  const known = figures.filter((figure) => Number.isFinite(figure));
  if (known.length === 0) return null;
  const [least, greatest] = [Math.min(...known), Math.max(...known)].map((figure) => withUnit(figure, showing));
  return least === greatest ? least! : `${least} to ${greatest}`;
}
