/** Says where a build expects less than whoever would have spoken without it. */
import type { PlanProblem } from '../plan/outcome.ts';
import type { Plan } from '../plan/run.ts';
import type { Comparison } from '../schema/schema.ts';
import type { Wish } from './expects.ts';
import { limitsInWords } from './in-words.ts';
import type { Judged } from './judge.ts';
import { readComparison, sideOf } from './question.ts';
import { limitFrom } from './speakers.ts';

/** One piece of advice for each expect that is looser than the limits whose place it took. */
export function looserThan(plan: Plan, judged: Judged): readonly PlanProblem[] {
  const told = new Set<Wish>();
  return judged.asked.flatMap((asked, cell) =>
    asked.flatMap(({ question, replaced }) => {
      if (replaced === null) return [];
      const [low, high] = ruleLimits(plan, judged, question.comparison!, cell);
      const wider =
        (replaced.low !== null && isLess(replaced.low, low)) || (replaced.high !== null && isLess(high, replaced.high));
      const news = replaced.by.filter((wish) => !told.has(wish));
      if (!wider || news.length === 0) return [];
      for (const wish of news) told.add(wish);
      const whose = limitFrom(plan, judged.draft, question.comparison, judged.axes, cell);
      return news.map((wish): PlanProblem => ({
        code: 'expect.looser',
        severity: 'advice',
        args: {
          whose: whose.words,
          limits: limitsInWords(plan.schema.slots[question.comparison!.slot!]!, low, high),
          rule: judged.draft.id,
          expect: wish.expect.text,
        },
        origin: wish.expect.origin,
        related: whose.origin === null ? [] : [whose.origin],
      }));
    }),
  );
}

function ruleLimits(
  plan: Plan,
  { axes, draft }: Judged,
  comparison: Comparison,
  cell: number,
): readonly [number, number] {
  const read = readComparison(plan, comparison, draft.origin);
  return [
    read.low === null ? -Infinity : sideOf(read.low, axes, false, null).data[cell]!,
    read.high === null ? Infinity : sideOf(read.high, axes, false, null).data[cell]!,
  ];
}

/** By more than comparisons allow. */
function isLess(a: number, b: number): boolean {
  return a < b - 1e-9 * Math.abs(b);
}
