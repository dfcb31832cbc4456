/** A rule of the trade library that must speak, must hold, or must not apply in a small build. */
import { describe, expect, test } from 'vitest';
import { engine } from './rows/row.ts';
import { run } from './run.ts';

export interface Case {
  readonly rule: string;
  readonly about: string;
  readonly members: string;
  /** Cells that must be out; none: the rule must hold. `n/a`: it must not apply. `cannot tell`: something is missing. */
  readonly out: readonly string[] | 'n/a' | 'cannot tell';
}

export function testRules(name: string, cases: readonly Case[]): void {
  describe(name, () => {
    test.each(cases)('$rule: $about', ({ rule, members, out }) => {
      const ran = run(engine(members));
      expect(ran.slips).toEqual([]);
      const result = ran.build('row');
      if (out === 'n/a') expect(result.check(rule).state).toBe('not-applicable');
      else if (out === 'cannot tell') expect(result.check(rule).state).toBe('cannot-tell');
      else {
        const cells = result.cellsIn('out-of-limits').filter((cell) => cell === rule || cell.startsWith(`${rule}[`));
        expect(cells).toEqual(out.map((cell) => rule + cell));
        if (out.length === 0) expect(result.check(rule).state).toMatch(/^holds/);
      }
    });
  });
}
