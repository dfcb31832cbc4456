/** Check values from outside: each row names its source. Figures of the tool are compared in SI with factors written down again in row.ts. */
import { describe, expect, test } from 'vitest';
import { airRows } from './rows/air.ts';
import { bearingRows } from './rows/bearings.ts';
import { blockRows } from './rows/block.ts';
import { crankRows } from './rows/crank.ts';
import { definitionRows } from './rows/definitions.ts';
import { camRows } from './rows/cam.ts';
import { clearanceRows } from './rows/clearances.ts';
import { fitRows } from './rows/fits.ts';
import { heatRows } from './rows/heat.ts';
import { kinematicRows } from './rows/kinematics.ts';
import { layoutRows, namedTwice, wrongBanks } from './rows/layouts.ts';
import { oilRows } from './rows/oil.ts';
import { published, publishedRows, publishedText } from './rows/published.ts';
import { holdRows } from './rows/hold.ts';
import { unit, type Row } from './rows/row.ts';
import { springRows } from './rows/springs.ts';
import { stackUpRows } from './rows/stack-up.ts';
import { valveTrainRows } from './rows/valve-train.ts';
import { breathingRows } from './rows/breathing.ts';
import { seatRows } from './rows/seats.ts';
import { weightRows } from './rows/weights.ts';
import { run } from './run.ts';

const groups: readonly (readonly [name: string, rows: readonly Row[]])[] = [
  ['layouts', layoutRows],
  ['definitions', definitionRows],
  ['published engines', publishedRows],
  ['slider-crank', kinematicRows],
  ['stack-up and air', stackUpRows],
  ['weights', weightRows],
  ['fits, springs, shims', fitRows],
  ['block', blockRows],
  ['crank and fits', crankRows],
  ['bearings', bearingRows],
  ['oil', oilRows],
  ['heat and press fits', heatRows],
  ['air', airRows],
  ['springs', springRows],
  ['valve train', valveTrainRows],
  ['cam', camRows],
  ['clearances', clearanceRows],
  ['breathing', breathingRows],
  ['seats and guides', seatRows],
];

holdRows(groups);

describe('printed displacements', () => {
  test.each(published)('$id, $printed', (row) => {
    const check = run(publishedText(row)).build('row').check('published-displacement-agrees');
    expect(check.state).toBe(row.agrees ? 'holds-on-paper' : 'out-of-limits');
  });
});

describe('firing orders', () => {
  test('LY-02: with the banks the wrong way round the order is impossible, and cylinders are named', () => {
    const { outcome, ...result } = run(wrongBanks).build('row');
    expect(result.check('layout.order-possible').state).toBe('out-of-limits');
    const named = result.cellsIn('out-of-limits').filter((cell) => cell.startsWith('layout.order-possible'));
    // closed form: against cylinder 1, pin of 2 is half a turn out, 3 and 8 are a quarter, and so on; 1 and those alike hold
    expect(named.length).toBeGreaterThan(0);
    expect(named).not.toContain('layout.order-possible[1]');
    expect(outcome.checks.find((check) => check.id === 'layout.every-cylinder-once')?.state).toMatch(/^holds/);
  });
  test('LY-02: the two cylinders of a pin disagree by half a turn', () => {
    const apart = run(wrongBanks).build('row').figures('layout.split-for-even');
    for (const angle of apart) expect(angle / unit.deg).toBeCloseTo(180, 9);
  });
  test('a cylinder that is named twice is found, and so is the one left out', () => {
    const result = run(namedTwice).build('row');
    const named = result.cellsIn('out-of-limits').filter((cell) => cell.startsWith('layout.every-cylinder-once'));
    expect(named).toEqual(['layout.every-cylinder-once[2]', 'layout.every-cylinder-once[3]']);
  });
});
