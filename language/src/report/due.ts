// Readings that are due, those of one figure told together. Knows no layout.
import type { MissingInput, Outcome } from '../semantics/plan/outcome.ts';
import { cellsInWords, placesOf } from './cells.ts';
import { overtakenBy } from './read-again.ts';

export interface Due {
  readonly path: string;
  readonly slot: number;
  readonly cells: readonly number[];
  /** `each station`, `station 3`; empty where there is one. */
  readonly where: string;
  readonly why: string;
  /** Ids of the checks that the readings help to settle. */
  readonly settles: readonly string[];
}

/** In the order in which they were first asked for. */
export function duesOf(
  outcome: Outcome,
  wanted: readonly Pick<Outcome['toMeasure'][number], 'input' | 'settles'>[],
): Due[] {
  const groups = new Map<
    string,
    { path: string; slot: number; why: string; cells: Set<number>; settles: Set<string> }
  >();
  for (const { input, settles } of wanted) {
    const why = whyDue(outcome, input);
    const key = `${input.path}\n${why}`;
    const group = groups.get(key) ?? { path: input.path, slot: input.slot, why, cells: new Set(), settles: new Set() };
    groups.set(key, group);
    group.cells.add(input.cell);
    for (const id of settles) group.settles.add(id);
  }
  return [...groups.values()].map(({ path, slot, why, cells, settles }) => {
    const axes = outcome.slots.find(({ slot }) => slot.path === path)?.axes ?? [];
    const places = [...cells].map((cell) => placesOf(axes, cell));
    return { path, slot, cells: [...cells], where: cellsInWords(axes, places), why, settles: [...settles] };
  });
}

function whyDue(outcome: Outcome, { why, stale, slot, cell }: MissingInput): string {
  if (why !== null || !stale) return why ?? '';
  const by = overtakenBy(outcome, slot, cell);
  return by === '' ? 'cut since it was measured' : `cut since it was measured (${by})`;
}
