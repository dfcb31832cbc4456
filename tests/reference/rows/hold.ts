/** Holds rows against what comes out of their texts: one test a row, all cells of it. */
import { describe, expect, test } from 'vitest';
import { run } from '../run.ts';
import { unit, type Row } from './row.ts';

export function holdRows(groups: readonly (readonly [name: string, rows: readonly Row[]])[]): void {
  for (const [name, rows] of groups)
    describe(name, () => {
      test.each(rows)('$id: $source', (row) => {
        const ran = run(row.text);
        expect(ran.slips).toEqual([]);
        const figures = ran.build('row').figures(row.path);
        const expected = typeof row.expected === 'number' ? [row.expected] : row.expected;
        expect(figures).toHaveLength(expected.length);
        for (const [i, wanted] of expected.entries()) {
          const figure = figures[i]! / unit[row.unit];
          const slack = Math.max(row.tolerance, 1e-12 * Math.abs(wanted));
          if (Number.isNaN(wanted)) expect(figure, `cell ${i + 1}`).toBeNaN();
          else
            expect(Math.abs(figure - wanted), `cell ${i + 1}: ${figure} where ${wanted} is due`).toBeLessThanOrEqual(
              slack,
            );
        }
      });
    });
}
