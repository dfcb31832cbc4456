/** Loops made from a plan give what the interpreter gives, to the last bit; what they cannot follow they leave to it. */
import { describe, expect, it, vi } from 'vitest';
import { compile } from '../../../language/src/semantics/certainty/compiled/compile.ts';
import { Draws } from '../../../language/src/semantics/certainty/draws.ts';
import { simulated, simulation } from '../../../language/src/semantics/certainty/monte-carlo.ts';
import type { Quantity, Simulated } from '../../../language/src/semantics/certainty/monte-carlo.ts';
import { planBuild } from '../../../language/src/semantics/plan/run.ts';
import type { Plan } from '../../../language/src/semantics/plan/run.ts';
import { run, runSample } from '../../reference/run.ts';
import type { Ran } from '../../reference/run.ts';

const few = { trials: 48, seed: 5 };

function planOf(ran: Ran, name: string): Plan {
  const { binding, texts } = ran.build(name).outcome;
  return planBuild(binding, undefined, texts);
}

function derived(plan: Plan): readonly Quantity[] {
  return plan.schema.slots.flatMap(({ id, sort }) =>
    sort === 'derive' && plan.valueOf(id, 'measured').value.is === 'numbers' ? [{ slot: id }] : [],
  );
}

function figures(all: readonly Simulated[]): readonly (readonly number[])[] {
  return all.flatMap(({ columns }) => columns.map((column) => [...column]));
}

/** The quantities that loops can do. */
function followed(plan: Plan): readonly Quantity[] {
  const all = derived(plan);
  const { cells } = new Draws(plan.sensitivities().sources(), few.seed);
  const made = compile(plan, cells, all)!;
  return all.filter((_, at) => made.traced[at] !== null);
}

describe('every derived figure that loops can follow', () => {
  it.each([
    ['tarn-427', 650, 'tarn-427.thou'],
    ['tarn-427-season', 650, 'tarn-season.thou'],
    ['skarn-998', 500, 'skarn-998.thou'],
    ['fell-427', 500, 'fell-427.thou'],
  ])('%s: at least %i of them, equal to the last bit', (name, least, file) => {
    const plan = planOf(runSample(file), name);
    const quantities = followed(plan);
    expect(quantities.length).toBeGreaterThan(least);
    const byLoops = simulation(plan, quantities, few);
    expect(byLoops.compiled).toBe(quantities.length);
    expect(figures(byLoops.found)).toEqual(figures(simulated(plan, quantities, { ...few, how: 'interpreted' })));
  });
});

const every = `use prelude 1
extend Engine {
  axis place = 1..3
  x: Ratio per place
  y: Ratio
  choice-of: left | right = left
  derive sum-of: Ratio = x[2] + y - sum(x over place) * mean(x over place) / max(x over place)
  derive powers: Ratio per place = x ^ 2 + x ^ 3 + x ^ 1.5 - 2 ^ y
  derive roots: Ratio per place = sqrt(x - 1) + log(x) + log10(x) + exp(-x) + abs(y - x) + hypot(x, y)
  derive turns: Ratio per place = sin(x * 1 rad) + cos(x * 1 rad) * tan(0.1 * x * 1 rad) + asin(x / 4) / 1 rad + acos(x / 4) / 1 rad + atan(x) / 1 rad + atan2(x, y) / 1 rad
  derive compared: Ratio per place = if x > y and x < 3 or x == 2 then largest(x, y) else smallest(x, y, 1)
  derive refused: Ratio per place = if not (x >= y) then 1 / (x - x) else sqrt(1 - x)
  derive chosen: Ratio per place = [left: x, right: -x] by choice-of
  derive counted: Count = count(x > 2 over place)
  derive some: Flag = any(x > 2.02 over place)
  derive whole: Flag = all(x <= 2.02 over place)
  derive named: Ratio per place = product + product ^ 2 where { product = x * y }
  derive apart: Ratio = spread(x over place) + sum(x over place where x > 2)
  derive hidden: Ratio = y * y
  derive other-case: Ratio per place = if x > 2.3 then hidden else 0
  derive rounded: Ratio per place = round(x * 10) / 10
}
build every { x: 2 ± 0.5, y: 2.1 ± 0.3 }
`;

describe('each step of a formula', () => {
  const plan = planOf(run(every), 'every');
  const slots = derived(plan).filter((one) => 'slot' in one && !plan.schema.slots[one.slot]!.path.includes('.'));
  const own = [
    'sum-of',
    'powers',
    'roots',
    'turns',
    'compared',
    'refused',
    'chosen',
    'counted',
    'some',
    'whole',
    'named',
    'apart',
    'other-case',
  ];
  it.each([...own, 'rounded'])('%s', (path) => {
    const slot = plan.schema.slotAt.get(path)!;
    expect(slots).toContainEqual({ slot });
    const quick = simulation(plan, [{ slot }], few);
    // rounding is left to the interpreter
    expect(quick.compiled).toBe(path === 'rounded' ? 0 : 1);
    const due = figures(simulated(plan, [{ slot }], { ...few, how: 'interpreted' }));
    expect(figures(quick.found)).toEqual(due);
    expect(new Set(due.flat()).size).toBeGreaterThan(path === 'refused' ? 0 : 1);
  });

  it('stays with the interpreter where functions may not be made at run time', () => {
    const slot = plan.schema.slotAt.get('powers')!;
    const due = figures(simulated(plan, [{ slot }], few));
    vi.stubGlobal('Function', function refused() {
      throw new EvalError('code from strings is not allowed here');
    });
    try {
      const alone = simulation(plan, [{ slot }], few);
      expect(alone.compiled).toBe(0);
      expect(figures(alone.found)).toEqual(due);
    } finally {
      vi.unstubAllGlobals();
    }
  });
});
