/** Runs a text or a sample through the whole language and gives figures and checks by path: the one place that knows its programming interface. */
import { readFileSync } from 'node:fs';
import { projectOf } from './memory.ts';
import type { CheckOutcome, CheckState, Outcome } from '../../language/src/semantics/plan/outcome.ts';
import type { View } from '../../language/src/semantics/ir.ts';

export interface Result {
  readonly name: string;
  /** Figures of a value in SI, last axis fastest; NaN where there is none. */
  figures(path: string, view?: View): readonly number[];
  states(path: string): readonly string[];
  check(id: string): CheckOutcome;
  /** Every cell that is not as it should be: `top-ring-gap[7]`, in the order of the checks. */
  cellsIn(...states: CheckState[]): readonly string[];
  readonly outcome: Outcome;
}

export interface Ran {
  /** Slips in the text: code and wording. */
  readonly slips: readonly string[];
  readonly builds: readonly Result[];
  build(name: string): Result;
}

const texts = new Map<string, string>();
let project = projectOf(texts);
let runs = 0;

/** Every text is a file of its own, so that no figure can come from the text before. A fresh project now and then keeps little in memory. */
export function run(text: string): Ran {
  runs += 1;
  if (runs % 100 === 0) {
    texts.clear();
    project = projectOf(texts);
  }
  const uri = `row-${runs}.thou`;
  texts.set(uri, text);
  return runFile(uri);
}

/** The same file with another text, as in an editor: what has not changed is taken over. For many engines of one shape. */
export function runEdited(text: string): Ran {
  texts.set('edited.thou', text);
  return runFile('edited.thou');
}

function runFile(uri: string): Ran {
  const { outcomes, problems } = project.check(uri);
  const slips = problems
    .filter(({ severity }) => severity !== 'hint')
    .map(({ code, message }) => `${code}: ${message}`);
  const builds = outcomes.map(resultOf);
  return {
    slips,
    builds,
    build(name) {
      const found = builds.find((build) => build.name === name);
      if (!found) throw new Error(`no build ${name}; slips: ${slips.join(' | ')}`);
      return found;
    },
  };
}

function resultOf(outcome: Outcome): Result {
  const slots = new Map(outcome.slots.map((slot) => [slot.slot.path, slot]));
  const slotOf = (path: string) => {
    const slot = slots.get(path);
    if (!slot) throw new Error(`no value ${path}`);
    return slot;
  };
  return {
    name: outcome.binding.name,
    outcome,
    figures(path, view = 'measured') {
      const value = slotOf(path).views[view];
      if (value.is !== 'numbers') throw new Error(`${path} is no figure`);
      return [...value.tensor.data];
    },
    states: (path) => slotOf(path).states,
    check(id) {
      const found = outcome.checks.find((check) => check.id === id);
      if (!found) throw new Error(`no check ${id}; there are ${outcome.checks.map((check) => check.id).join(', ')}`);
      return found;
    },
    cellsIn: (...states) => outcome.checks.flatMap((check) => cellsOf(check, states)),
  };
}

function cellsOf(check: CheckOutcome, states: readonly CheckState[]): string[] {
  return check.cells
    .filter((cell) => states.includes(cell.state))
    .map(({ places }) => {
      const keys = places.map((place, i) => check.axes[i]?.labels?.[place] ?? String(place + 1));
      return check.id + (keys.length > 0 ? `[${keys.join(', ')}]` : '');
    });
}

const samples = new URL('../../samples/', import.meta.url);
const sampleFiles = [
  'parts.thou',
  'shop.thou',
  'brackwater.thou',
  'parts/tarn.thou',
  'parts/skarn.thou',
  'tarn-427.thou',
  'tarn-bores.csv',
  'tarn-bores-season.csv',
  'fell-bores.csv',
];

/** A file of samples/ with every file that it may use. */
export function runSample(name: string): Ran {
  for (const file of [...sampleFiles, name]) texts.set(file, readFileSync(new URL(file, samples), 'utf8'));
  return runFile(name);
}
