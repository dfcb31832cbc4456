/**
 * Choices of the trade library against every choice there is, tried one by one: pairings of pistons and rods, shims used again. The figures of
 * the two sample jobs are those of the jobs' descriptions.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { unit } from './rows/row.ts';
import { run, runSample, type Result } from './run.ts';

function* orders(count: number): Generator<readonly number[]> {
  if (count === 0) return yield [];
  for (const rest of orders(count - 1))
    for (let at = 0; at < count; at++) yield [...rest.slice(0, at), count - 1, ...rest.slice(at)];
}
const spread = (figures: readonly number[]): number => Math.max(...figures) - Math.min(...figures);

/** The least spread of a[k] + b[p[k]] over every order p. */
function leastSpread(a: readonly number[], b: readonly number[]): number {
  let least = Infinity;
  for (const order of orders(a.length)) least = Math.min(least, spread(a.map((one, at) => one + b[order[at]!]!)));
  return least;
}
const isOrder = (places: readonly number[]): boolean =>
  [...places].sort((a, b) => a - b).every((place, at) => place === at);

describe('pairing', () => {
  const tarn = runSample('tarn-427.thou').build('tarn-427');
  test('of the V8: 0.0004 in becomes 0.0002 in, as no other order of the eight pistons does', () => {
    const [bores, skirts] = [tarn.figures('block.bore'), tarn.figures('piston.skirt')];
    expect(spread(tarn.figures('piston-to-wall')) / unit.in).toBeCloseTo(0.0004, 9);
    expect(spread(tarn.figures('piston-to-wall-paired')) / unit.in).toBeCloseTo(0.0002, 9);
    expect(tarn.figures('piston-pairing-gain')[0]! / unit.in).toBeCloseTo(0.0002, 9);
    const least = leastSpread(
      bores,
      skirts.map((skirt) => -skirt),
    );
    expect(spread(tarn.figures('piston-to-wall-paired'))).toBeCloseTo(least, 12);
    expect(isOrder(tarn.figures('piston-pairing'))).toBe(true);
  });
  test('of its rods: 2.6 g of 3.3 g are left, as with no other order', () => {
    const [pistons, ends] = [tarn.figures('piston.mass'), tarn.figures('rod.small-end')];
    expect(spread(pistons.map((mass, at) => mass + ends[at]!)) / unit.g).toBeCloseTo(3.3, 9);
    expect(spread(tarn.figures('weight-paired')) / unit.g).toBeCloseTo(2.6, 9);
    expect(spread(tarn.figures('weight-paired'))).toBeCloseTo(leastSpread(pistons, ends), 12);
    expect(tarn.figures('rod-pairing-gain')[0]! / unit.g).toBeCloseTo(0.7, 9);
  });

  const tenths = fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 4, maxLength: 4 });
  test('of four is the best of all twenty-four orders', () => {
    fc.assert(
      fc.property(tenths, tenths, (bores, skirts) => {
        const four = run(`use prelude 1
build four {
  layout: inline-4
  measured {
    block.bore: [${bores.map((off) => (80 + off / 1000).toFixed(3)).join()}] mm
    piston.skirt: [${skirts.map((off) => (79.95 + off / 1000).toFixed(3)).join()}] mm
  }
}
`).build('four');
        const least = leastSpread(
          four.figures('block.bore'),
          four.figures('piston.skirt').map((skirt) => -skirt),
        );
        expect(spread(four.figures('piston-to-wall-paired'))).toBeCloseTo(least, 12);
        expect(isOrder(four.figures('piston-pairing'))).toBe(true);
      }),
      { seed: 41, numRuns: 40 },
    );
  });
  test('keeps handed pistons in their hand', () => {
    const four = run(`use prelude 1
build four {
  layout: inline-4
  piston.hand: [left, left, right, right]
  measured {
    block.bore: [80.000, 80.010, 80.020, 80.030] mm
    piston.skirt: [79.970, 79.960, 79.950, 79.940] mm
  }
}
`).build('four');
    expect(four.figures('piston-pairing')).toEqual([1, 0, 3, 2]);
  });
});

describe('shims used again', () => {
  const skarn = runSample('skarn-998.thou').build('skarn-998');
  const mm = (path: string): number[] => skarn.figures(path).map((figure) => figure / unit.mm);
  test('what each valve out of its limits would want fresh', () => {
    const fresh = mm('bucket-shim-fresh');
    for (const [bucket, shim] of [
      [4, 2.55],
      [7, 2.65],
      [11, 2.625],
      [13, 2.7],
      [14, 2.625],
    ] as const)
      expect(fresh[bucket - 1]).toBeCloseTo(shim, 9);
  });
  test('one shim is bought, 2.55 for valve 4; five change places; valve 14 sits on its limit and that is told', () => {
    const from = skarn.figures('shim-choice');
    expect(from.flatMap((place, bucket) => (place === 16 ? [bucket + 1] : []))).toEqual([4]);
    expect(mm('shim-to-buy').filter((shim) => !Number.isNaN(shim))).toEqual([expect.closeTo(2.55, 9)]);
    expect(from.filter((place, bucket) => place !== bucket && place !== 16)).toHaveLength(5);
    expect([from[6], from[12], from[13]].map((place) => place! + 1)).toEqual([13, 11, 4]);
    expect(mm('lash-chosen')[13]).toBeCloseTo(0.25, 9);
    expect(skarn.cellsIn('at-risk').filter((cell) => cell.startsWith('shim-choice-lash'))).toContain(
      'shim-choice-lash[14]',
    );
    mm('lash-chosen').forEach((lash, bucket) => {
      expect(lash).toBeGreaterThanOrEqual((bucket < 8 ? 0.13 : 0.2) - 1e-9);
      expect(lash).toBeLessThanOrEqual((bucket < 8 ? 0.18 : 0.25) + 1e-9);
    });
    expect(skarn.outcome.slots.find(({ slot }) => slot.path === 'shim-chosen')!.uncertainty()[3]!).toBeLessThan(
      unit.mm / 50,
    );
  });

  /** Shim and lash of four buckets, in steps of a shim and hundredths. */
  const four = fc.array(fc.record({ shim: fc.integer({ min: 0, max: 8 }), lash: fc.integer({ min: 2, max: 34 }) }), {
    minLength: 4,
    maxLength: 4,
  });
  /** The least cost of every way: stay 0, from another bucket 1, bought 10. */
  function leastCost(shims: readonly number[], lash: readonly number[], fresh: readonly number[]): number {
    const isIn = (value: number): boolean => value >= 0.1 - 1e-9 && value <= 0.2 + 1e-9;
    let least = Infinity;
    const from = (bucket: number, left: readonly number[], cost: number): void => {
      if (bucket === shims.length) least = Math.min(least, cost);
      else {
        if (isIn(lash[bucket]! + shims[bucket]! - fresh[bucket]!)) from(bucket + 1, left, cost + 10);
        for (const one of left)
          if (isIn(lash[bucket]! + shims[bucket]! - shims[one]!))
            from(
              bucket + 1,
              left.filter((other) => other !== one),
              cost + (one === bucket ? 0 : 1),
            );
      }
    };
    from(0, [...shims.keys()], 0);
    return least;
  }
  const costOf = (result: Result): number =>
    result
      .figures('shim-choice')
      .reduce((sum, place, bucket) => sum + (place === 4 ? 10 : place === bucket ? 0 : 1), 0);
  test('of four buckets cost the least of all ways', () => {
    fc.assert(
      fc.property(four, (buckets) => {
        const shims = buckets.map(({ shim }) => 2.5 + shim * 0.05);
        const lash = buckets.map(({ lash: hundredths }) => hundredths / 100);
        const side = (from: number): string =>
          `lash: [1: [${lash[from]}, ${lash[from + 1]}]] mm, shim: [1: [${shims[from]!.toFixed(2)}, ${shims[from + 1]!.toFixed(2)}]] mm`;
        const own = `valves-per-cylinder: 2, lash-limits: 0.10..0.20 mm, shim-step: 0.05 mm`;
        const one = run(`use prelude 1
build one {
  layout: single
  intake { ${own}, ${side(0)} }
  exhaust { ${own}, ${side(2)} }
}
`).build('one');
        const fresh = one.figures('bucket-shim-fresh').map((figure) => figure / unit.mm);
        expect(costOf(one)).toBe(leastCost(shims, lash, fresh));
      }),
      { seed: 43, numRuns: 60 },
    );
  });
});
