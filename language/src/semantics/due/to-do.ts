/** Tasks of the lists that are fitted: each place of a `ticked` flag is one, done when somebody says that it was. */
import { Mark } from '../evaluate/value.ts';
import { along, markAt } from '../plan/cells.ts';
import type { Assignment } from '../bind/binding.ts';
import type { Outcome, SlotOutcome } from '../plan/outcome.ts';

export interface Task {
  readonly cell: number;
  readonly done: boolean;
  /** Where somebody says so, with date and hand; null where nobody does, or where it follows from something else. */
  readonly said: Assignment | null;
}
export interface TaskList {
  readonly one: SlotOutcome;
  readonly tasks: readonly Task[];
}

/** In the order of the declarations. What does not apply is no task. */
export function toDo({ slots }: Pick<Outcome, 'slots'>): readonly TaskList[] {
  return slots.flatMap((one) => {
    const value = one.views.measured;
    if (!one.slot.features.includes('ticked') || value.is !== 'numbers') return [];
    const { data, mark } = along(value.tensor, one.axes);
    const tasks = Array.from(data, (figure, cell) => ({ cell, done: figure === 1 }))
      .filter(({ cell }) => markAt(mark, cell) !== Mark.absent)
      .map((task) => ({ ...task, said: task.done ? one.sourceOf(task.cell, 'measured') : null }));
    return tasks.length === 0 ? [] : [{ one, tasks }];
  });
}
