/** Figures that are computed from each other, with none that could be given: a mistake of the declarations. */
import type { Report } from '../problems/report.ts';
import type { SlotId } from '../ir.ts';
import { slotsRead, type Draft } from './draft.ts';

export function reportCycles(draft: Draft, report: Report): void {
  const state = new Map<SlotId, 'open' | 'done'>();
  for (const slot of draft.slots) walk(slot.id, [], draft, state, report);
}

/** Depth first over derives only: a property in between can be given and opens the circle. */
function walk(start: SlotId, path: SlotId[], draft: Draft, state: Map<SlotId, 'open' | 'done'>, report: Report): void {
  const slot = draft.slots[start]!;
  if (slot.sort !== 'derive' || !slot.formula || state.get(start) === 'done') return;
  if (state.get(start) === 'open') {
    const members = path.slice(path.indexOf(start)).map((id) => draft.slots[id]!.path);
    report.add('declare.cycle', { uri: slot.origin.uri, at: slot.origin.at, property: 'name' }, { names: members.join(', ') });
    return;
  }
  state.set(start, 'open');
  path.push(start);
  for (const next of slotsRead(slot.formula)) walk(next, path, draft, state, report);
  path.pop();
  state.set(start, 'done');
}
