/** Random engines with readings and orders: stack-up and ratio in all four views against a second program, written here in plain arithmetic. */
import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import { engine } from './rows/row.ts';
import { runEdited } from './run.ts';
import type { View } from '../../language/src/semantics/ir.ts';

interface Job {
  readonly bore: number;
  readonly stroke: number;
  readonly rod: number;
  readonly height: number;
  readonly offset: number;
  readonly found: readonly number[];
  readonly cutBore: number;
  readonly cutDeck: number;
  readonly bores: readonly number[];
  readonly chambers: readonly number[];
  readonly dish: number;
  readonly dome: number;
  readonly opening: number;
  readonly thickness: number;
}

const between = (low: number, high: number): fc.Arbitrary<number> =>
  fc.double({ min: low, max: high, noNaN: true }).map((x) => Math.round(x * 1e5) / 1e5);
const job: fc.Arbitrary<Job> = fc
  .record({
    bore: between(80, 110),
    stroke: between(60, 110),
    rod: between(130, 170),
    height: between(25, 40),
    offset: between(-1.5, 1.5),
    slack: between(0.1, 0.6),
    cut: between(0.05, 0.4),
  })
  .chain(({ bore, stroke, rod, height, offset, slack, cut }) => {
    const top = Math.sqrt((stroke / 2 + rod) ** 2 - offset ** 2) + height + slack;
    return fc.record({
      bore: fc.constant(bore),
      stroke: fc.constant(stroke),
      rod: fc.constant(rod),
      height: fc.constant(height),
      offset: fc.constant(offset),
      found: fc.array(between(top - 0.05, top + 0.05), { minLength: 4, maxLength: 4 }),
      cutBore: fc.constant(bore + cut),
      cutDeck: between(top - slack, top),
      bores: fc.array(between(bore + cut - 0.02, bore + cut + 0.02), { minLength: 8, maxLength: 8 }),
      chambers: fc.array(between(40, 80), { minLength: 8, maxLength: 8 }),
      dish: between(0, 10),
      dome: between(0, 5),
      opening: between(bore + cut + 0.1, bore + cut + 2),
      thickness: between(0.5, 2),
    });
  });

function text(of: Job): string {
  const [a, b, c, d] = of.found;
  return engine(`layout: vee-8-cross
  block { bore: ${of.bore} mm, deck-height: ${of.found[0]} mm }
  crank.stroke: ${of.stroke} mm
  rod.length: ${of.rod} mm
  piston { compression-height: ${of.height} mm, dish: ${of.dish} cc, dome: ${of.dome} cc, pin.offset: ${of.offset} mm }
  head.chamber: 60 cc
  head-gasket { bore: ${of.opening} mm, thickness: ${of.thickness} mm }
  measured "as it came" on 2026-01-02 { block.deck-height: [1: [front: ${a}, rear: ${b}], 2: [front: ${c}, rear: ${d}]] mm }
  machining on 2026-02-03 { block.deck-height: ${of.cutDeck} mm, block.bore: ${of.cutBore} mm }
  measured "back" on 2026-03-04 { block.bore: [${of.bores.join(', ')}] mm, head.chamber: [${of.chambers.join(', ')}] cc }`);
}

interface Expected {
  readonly compression: number;
  readonly quench: number;
}

/** Cylinder k of eight, from 0: odd ones on the first bank, four places along each. All in mm. */
function expected(of: Job, view: View, k: number): Expected {
  const r = of.stroke / 2;
  const highest = Math.sqrt((r + of.rod) ** 2 - of.offset ** 2);
  const lowest = Math.sqrt((of.rod - r) ** 2 - of.offset ** 2);
  const bank = k % 2;
  const along = Math.floor(k / 2) / 3;
  const came = of.found[bank * 2]! * (1 - along) + of.found[bank * 2 + 1]! * along;
  const deck = { specified: of.found[0]!, ordered: of.cutDeck, before: came, measured: of.cutDeck }[view];
  const bore = { specified: of.bore, ordered: of.cutBore, before: of.bore, measured: of.bores[k]! }[view];
  const chamber = { specified: 60, ordered: 60, before: of.chambers[k]!, measured: of.chambers[k]! }[view];
  const clearance = deck - highest - of.height;
  const area = (Math.PI / 4) * bore ** 2;
  const left = (chamber + of.dish - of.dome) * 1000 + (Math.PI / 4) * of.opening ** 2 * of.thickness + area * clearance;
  return { compression: 1 + (area * (highest - lowest)) / left, quench: clearance + of.thickness };
}

// many engines; how long they take is no matter here
vi.setConfig({ testTimeout: 120_000 });

test('ratio and quench in all views, to 1e-9', () => {
  fc.assert(
    fc.property(job, (of) => {
      const ran = runEdited(text(of));
      expect(ran.slips).toEqual([]);
      const result = ran.build('row');
      for (const view of ['specified', 'ordered', 'before', 'measured'] as const) {
        const compression = result.figures('compression', view);
        const quench = result.figures('quench', view);
        for (let k = 0; k < 8; k++) {
          const due = expected(of, view, k);
          const at = (path: readonly number[]): number => path[path.length === 1 ? 0 : k]!;
          expect(
            Math.abs(at(compression) / due.compression - 1),
            `compression[${k + 1}] ${view}: ${at(compression)} where ${due.compression} is due`,
          ).toBeLessThan(1e-9);
          expect(Math.abs(at(quench) * 1000 - due.quench), `quench[${k + 1}] ${view}`).toBeLessThan(1e-9);
        }
      }
    }),
    { numRuns: 30, seed: 998 },
  );
});
