/**
 * The design’s own example and the half-written single: every figure that the description of the job gives, recomputed by the language; every fault found; nothing else found.
 * Figures are to the last digit that the description prints.
 */
import { describe, expect, test } from 'vitest';
import { near } from './near.ts';
import { unit } from './rows/row.ts';
import { runSample, type Result } from './run.ts';
import type { View } from '../../language/src/semantics/ir.ts';

describe('the design’s own example', () => {
  const ran = runSample('fell-427.thou');
  const fell = ran.build('fell-427');
  const at = (result: Result, path: string, view: View): number => result.figures(path, view)[1]!;

  test('the text has no slip', () => expect(ran.slips).toEqual([]));
  test('10.49 as specified, 10.61 as ordered, 0.044 to 0.039 in', () => {
    expect(at(fell, 'compression', 'specified')).toBeCloseTo(10.49, 2);
    expect(at(fell, 'compression', 'ordered')).toBeCloseTo(10.61, 2);
    expect(at(fell, 'quench', 'specified') / unit.in).toBeCloseTo(0.044, 6);
    expect(at(fell, 'quench', 'ordered') / unit.in).toBeCloseTo(0.039, 6);
  });
  test('the thin gasket: 10.70 and 0.035 in, out of the limits it was given', () => {
    const thin = ran.build('thin-gasket');
    expect(at(thin, 'compression', 'ordered')).toBeCloseTo(10.7, 2);
    expect(at(thin, 'quench', 'ordered') / unit.in).toBeCloseTo(0.035, 6);
    expect(thin.cellsIn('out-of-limits').some((cell) => cell.startsWith('quench-clearance'))).toBe(true);
  });
  test('the deviation is accepted, nothing is out', () => {
    expect(fell.cellsIn('accepted')).toEqual(['top-ring-gap[3]']);
    expect(fell.cellsIn('out-of-limits')).toEqual([]);
  });
});

describe('the half-written single', () => {
  const ran = runSample('gill-350.thou');
  const gill = ran.build('gill-350');

  test('the text has no slip and nothing is red', () => {
    expect(ran.slips).toEqual([]);
    expect(gill.cellsIn('out-of-limits', 'at-risk')).toEqual([]);
  });
  test('what can be computed is', () => {
    near(gill, 'displacement', 'cc', [(Math.PI / 4) * 7.95 ** 2 * 7.1], 1e-6);
    near(gill, 'crank.rod-journal', 'in', [1.2496], 1e-9);
    near(gill, 'mean-piston-speed', 'm/s', [(2 * 0.071 * 6800) / 60], 1e-9);
  });
  test('what is missing is named', () => {
    expect(gill.figures('compression')).toEqual([NaN]);
    const missing = gill.outcome.toMeasure.map(({ input }) => input.path);
    expect(missing).toContain('piston.compression-height');
    expect(missing).toContain('block.deck-height');
  });
});
