/** Figures of a sample against those that its description prints. */
import { expect } from 'vitest';
import { unit } from './rows/row.ts';
import type { Result } from './run.ts';
import type { View } from '../../language/src/semantics/ir.ts';

export function near(
  result: Result,
  path: string,
  of: keyof typeof unit,
  expected: readonly number[],
  tolerance: number,
  view?: View,
): void {
  const figures = result.figures(path, view).map((figure) => figure / unit[of]);
  expect(figures).toHaveLength(expected.length);
  for (const [i, wanted] of expected.entries()) {
    expect(
      Math.abs(figures[i]! - wanted),
      `${path}, cell ${i + 1}: ${figures[i]} where ${wanted} is due`,
    ).toBeLessThanOrEqual(tolerance * (1 + 1e-9));
  }
}
/** Cells of one rule. */
export const only = (cells: readonly string[], rule: string): readonly string[] =>
  cells.filter((cell) => cell === rule || cell.startsWith(`${rule}[`));
