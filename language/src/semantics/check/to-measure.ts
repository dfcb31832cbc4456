/** What would settle checks that are open: cells not measured, or missing, that they rest on. */
import { Mark } from '../evaluate/value.ts';
import type { CheckCell, MissingInput, Outcome } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import { startAt } from './cells.ts';
import type { Judged } from './judge.ts';
import { findingsAbout } from './kept.ts';
import { unmeasuredUnder } from './missing.ts';

/** Those that settle most first. */
export function toMeasure(
  plan: Plan,
  judged: readonly Judged[],
  laid: readonly (readonly CheckCell[])[],
): Outcome['toMeasure'] {
  const open = judged.flatMap((one, at) => {
    const cells = laid[at]!.flatMap(({ state }, cell) =>
      state !== 'not-applicable' && state !== 'accepted' && one.verdicts[cell]!.mark > Mark.measured ? [cell] : [],
    );
    return cells.length === 0 ? [] : [{ one, cells }];
  });
  const inputs = unmeasuredFor(plan, open);
  const byCell = new Map<string, { readonly input: MissingInput; readonly settles: Set<string> }>();
  open.forEach(({ one }, at) => {
    for (const input of inputs[at]!) {
      const key = `${input.slot} ${input.cell}`;
      const known = byCell.get(key) ?? { input, settles: new Set<string>() };
      known.settles.add(one.draft.id);
      byCell.set(key, known);
    }
  });
  const all = [...byCell.values()].map(({ input, settles }) => ({ input, settles: [...settles] }));
  return all.sort(
    (a, b) => b.settles.length - a.settles.length || a.input.slot - b.input.slot || a.input.cell - b.input.cell,
  );
}

interface Open {
  readonly one: Judged;
  readonly cells: readonly number[];
}

/** Of checks that an edit did not touch it is known from before. */
function unmeasuredFor(plan: Plan, open: readonly Open[]): readonly (readonly MissingInput[])[] {
  const news = open.filter(({ one, cells }) => findingsAbout(one).unmeasured?.of !== cells.join());
  const inputs = unmeasuredUnder(
    plan,
    news.map(({ one, cells }) => startAt(one, cells)),
  );
  news.forEach(({ one, cells }, at) => {
    findingsAbout(one).unmeasured = { of: cells.join(), inputs: inputs[at]! };
  });
  return open.map(({ one }) => findingsAbout(one).unmeasured!.inputs);
}
