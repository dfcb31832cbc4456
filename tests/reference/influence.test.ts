// What moves a figure, against the closed derivatives of the trade library; what makes it unsure, against its uncertainty.
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../language/src/semantics/plan/run.ts';
import { influencesOn } from '../../language/src/semantics/solve/influence.ts';
import { partsOfUnsureness } from '../../language/src/report/unsureness.ts';
import { unit } from './rows/row.ts';
import { runSample } from './run.ts';

const tarn = runSample('tarn-427.thou').build('tarn-427');
const { outcome } = tarn;
const slotNamed = (path: string) => outcome.slots.find(({ slot }) => slot.path === path)!;

describe('what moves compression of cylinder 5', () => {
  const plan = planBuild(outcome.binding, undefined, outcome.texts);
  const influences = influencesOn(plan, slotNamed('compression').slot.id, 4, () => 0.001 * unit.in);
  const ofPath = (path: string) => influences.filter(({ slot }) => outcome.slots[slot]!.slot.path === path);

  test('by a thousandth of gasket is the derivative of the definition', () => {
    const [gasket] = ofPath('head-gasket.thickness');
    expect(gasket!.by).toBeCloseTo(tarn.figures('compression-per-thou-of-gasket')[4]!, 5);
  });
  test('by a thousandth at both ends of the deck is that of the deck, with the sign of a cut', () => {
    const ends = ofPath('block.deck-height').reduce((sum, { by }) => sum + by, 0);
    expect(-ends).toBeCloseTo(tarn.figures('compression-per-thou-of-deck')[4]!, 5);
  });
  test('is nothing that belongs to another cylinder', () => {
    for (const path of ['head.chamber', 'piston.dish', 'rod.length'])
      expect(ofPath(path).map(({ cell }) => cell)).toEqual([4]);
  });
  test('is told the strongest for its size first', () => {
    const sizes = influences.map(({ relative }) => Math.abs(relative ?? 0));
    expect([...sizes].sort((a, b) => b - a)).toEqual(sizes);
  });
});

describe('what makes a figure unsure', () => {
  test.each(['compression', 'main-clearance', 'quench', 'piston-to-wall', 'intake.coil-bind-margin'])(
    'of %s adds up to its uncertainty, the largest first',
    (path) => {
      const one = slotNamed(path);
      one.uncertainty().forEach((u, cell) => {
        const parts = partsOfUnsureness(outcome, one, cell);
        if (u === null) return expect(parts).toEqual([]);
        expect(Math.hypot(...parts.map(({ brings }) => brings / 2)) / u).toBeCloseTo(1, 9);
        expect(parts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
        const shares = parts.map(({ share }) => share);
        expect([...shares].sort((a, b) => b - a)).toEqual(shares);
      });
    },
  );
  test('names the gauge once for all that it has read', () => {
    const names = partsOfUnsureness(outcome, slotNamed('main-clearance'), 2).map(({ name }) => name);
    expect(names[0]).toBe('bore gauge');
    expect(new Set(names).size).toBe(names.length);
  });
});
