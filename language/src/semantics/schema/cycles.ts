/** Figures that are computed from each other, with none that could be given: a mistake of the declarations. */
import type { Report } from '../problems/report.ts';
import type { SlotId } from '../ir.ts';
import type { Draft } from './draft.ts';
import { slotsIn } from '../reads.ts';

interface Step {
  readonly slot: SlotId;
  readonly next: Iterator<SlotId>;
}

/** Over derives only: a property in between can be given and opens the circle. Depth first, without recursion: chains may be long. */
export function reportCycles(draft: Draft, report: Report): void {
  const state = new Map<SlotId, 'open' | 'done'>();
  for (const { id } of draft.slots) walk(id, draft, state, report);
}

function walk(start: SlotId, draft: Draft, state: Map<SlotId, 'open' | 'done'>, report: Report): void {
  const path: Step[] = [];
  const enter = (slot: SlotId): void => {
    const { sort, formula } = draft.slots[slot]!;
    if (sort !== 'derive' || !formula || state.has(slot)) return;
    state.set(slot, 'open');
    path.push({ slot, next: slotsIn(formula).values() });
  };
  enter(start);
  for (let at = path.at(-1); at; at = path.at(-1)) {
    const next = at.next.next();
    if (next.done) {
      state.set(at.slot, 'done');
      path.pop();
    } else if (state.get(next.value) === 'open') tell(next.value, path, draft, report);
    else enter(next.value);
  }
}

/** The names at one place of a circle, few enough to be read. */
const shownAtMost = 8;

function tell(slot: SlotId, path: readonly Step[], draft: Draft, report: Report): void {
  const members = path.slice(path.findIndex((step) => step.slot === slot)).map((step) => draft.slots[step.slot]!);
  const { origin } = draft.slots[slot]!;
  const names =
    members
      .slice(0, shownAtMost)
      .map((member) => member.path)
      .join(', ') + (members.length > shownAtMost ? ' …' : '');
  const why =
    members.length === 1
      ? 'it needs itself'
      : 'each needs the next and the last the first, so one of them must be a figure that is given';
  const related = members
    .slice(1, shownAtMost)
    .map((member) => ({ target: { ...member.origin, property: 'name' }, words: 'in the circle' }));
  report.add('declare.cycle', { ...origin, property: 'name' }, { names, why }, { related });
}
