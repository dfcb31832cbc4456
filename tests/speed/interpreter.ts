/**
 * How fast one expression of thirty operations over twelve inputs is: a loop written by hand, the interpreter in blocks of 1,024 lanes,
 * and mathjs compiled, a million evaluations of each in one run. A report, not a test: run it with `npx node tests/speed/interpreter.ts`.
 */
import { plainNumber } from '@thou/shared/dimension/types';
import { compile } from 'mathjs';
import type { EvalContext } from '../../language/src/semantics/evaluate/context.ts';
import { evaluate } from '../../language/src/semantics/evaluate/interpreter.ts';
import type { Axis, Value } from '../../language/src/semantics/evaluate/value.ts';
import type { Binary, Elementwise, Expr } from '../../language/src/semantics/ir.ts';

const evaluations = 1_000_000;
const lanes = 1024;
const inputs = 12;
const rounds = 5;

const type: Expr['type'] = { value: { is: 'measure', measure: plainNumber }, axes: [] };
const n = (value: number): Expr => ({ op: 'constant', value, type, at: null });
const x = (slot: number): Expr => ({ op: 'slot', slot, type, at: null });
const bin = (left: Expr, operator: Binary, right: Expr): Expr => ({
  op: 'binary',
  operator,
  left,
  right,
  type,
  at: null,
});
const fn = (name: Elementwise, arg: Expr): Expr => ({
  op: 'apply',
  function: name,
  args: [arg],
  option: null,
  type,
  at: null,
});

/** The same thirty operations three times: as text, as a loop, as an expression. */
const text =
  '(x0*x1 + x2*x3 - x4/x5)*(x6 + x7*0.5) + sqrt(x8*x8 + x9*x9)*(x10 - x11) + (x0 + x1 + x2)/(x3 + 2) - x4*x5*0.25 + (x6 - x7)*(x8 - x9)/(x10 + x11 + 1)';

function byHand(at: readonly Float64Array[], out: Float64Array): void {
  const c0 = at[0]!;
  const c1 = at[1]!;
  const c2 = at[2]!;
  const c3 = at[3]!;
  const c4 = at[4]!;
  const c5 = at[5]!;
  const c6 = at[6]!;
  const c7 = at[7]!;
  const c8 = at[8]!;
  const c9 = at[9]!;
  const c10 = at[10]!;
  const c11 = at[11]!;
  for (let lane = 0; lane < out.length; lane++) {
    const x0 = c0[lane]!;
    const x1 = c1[lane]!;
    const x2 = c2[lane]!;
    const x3 = c3[lane]!;
    const x4 = c4[lane]!;
    const x5 = c5[lane]!;
    const x6 = c6[lane]!;
    const x7 = c7[lane]!;
    const x8 = c8[lane]!;
    const x9 = c9[lane]!;
    const x10 = c10[lane]!;
    const x11 = c11[lane]!;
    out[lane] =
      (x0 * x1 + x2 * x3 - x4 / x5) * (x6 + x7 * 0.5) +
      Math.sqrt(x8 * x8 + x9 * x9) * (x10 - x11) +
      (x0 + x1 + x2) / (x3 + 2) -
      x4 * x5 * 0.25 +
      ((x6 - x7) * (x8 - x9)) / (x10 + x11 + 1);
  }
}

const terms: Expr[] = [
  bin(
    bin(bin(bin(x(0), '*', x(1)), '+', bin(x(2), '*', x(3))), '-', bin(x(4), '/', x(5))),
    '*',
    bin(x(6), '+', bin(x(7), '*', n(0.5))),
  ),
  bin(fn('sqrt', bin(bin(x(8), '*', x(8)), '+', bin(x(9), '*', x(9)))), '*', bin(x(10), '-', x(11))),
  bin(bin(bin(x(0), '+', x(1)), '+', x(2)), '/', bin(x(3), '+', n(2))),
];
const expression = bin(
  bin(bin(bin(terms[0]!, '+', terms[1]!), '+', terms[2]!), '-', bin(bin(x(4), '*', x(5)), '*', n(0.25))),
  '+',
  bin(bin(bin(x(6), '-', x(7)), '*', bin(x(8), '-', x(9))), '/', bin(bin(x(10), '+', x(11)), '+', n(1))),
);

function operations(expr: Expr): number {
  if (expr.op === 'binary') return 1 + operations(expr.left) + operations(expr.right);
  return expr.op === 'apply' ? 1 + expr.args.reduce((sum, arg) => sum + operations(arg), 0) : 0;
}

const columns = Array.from({ length: inputs }, (_, input) =>
  Float64Array.from({ length: evaluations }, (_, lane) => 1 + ((lane * 7919 + input * 104_729) % 10_007) / 10_007),
);

function interpreted(out: Float64Array): void {
  for (let from = 0; from < evaluations; from += lanes) {
    const to = Math.min(evaluations, from + lanes);
    const axis: Axis = {
      id: -1,
      name: 'lanes',
      size: to - from,
      labels: null,
      coordinates: columns[0]!.subarray(from, to),
    };
    const blocks = columns.map((column): Value => ({
      is: 'numbers',
      tensor: { axes: [axis], data: column.subarray(from, to), mark: null },
      band: null,
    }));
    const context = { view: 'measured', slot: (slot: number) => blocks[slot]! } as Partial<EvalContext> as EvalContext;
    const value = evaluate(expression, context);
    if (value.is === 'numbers') out.set(value.tensor.data, from);
  }
}

function withMathjs(out: Float64Array): void {
  const compiled = compile(text);
  const scope: Record<string, number> = {};
  for (let lane = 0; lane < evaluations; lane++) {
    for (let input = 0; input < inputs; input++) scope[`x${input}`] = columns[input]![lane]!;
    out[lane] = compiled.evaluate(scope) as number;
  }
}

function best(work: (out: Float64Array) => void, times: number): { readonly ms: number; readonly out: Float64Array } {
  const out = new Float64Array(evaluations);
  let ms = Infinity;
  for (let round = 0; round < times; round++) {
    const start = performance.now();
    work(out);
    ms = Math.min(ms, performance.now() - start);
  }
  return { ms, out };
}

const hand = best((out) => byHand(columns, out), rounds);
const blocks = best(interpreted, rounds);
const mathjs = best(withMathjs, 2);
const apart = Math.max(
  ...Array.from({ length: 1000 }, (_, at) => Math.abs(blocks.out[at * 997]! - hand.out[at * 997]!)),
);
if (!(apart < 1e-12) || !(Math.abs(mathjs.out[5]! - hand.out[5]!) < 1e-12)) throw new Error('The three do not agree.');

console.log(
  `${evaluations.toLocaleString('en')} evaluations of ${operations(expression)} operations over ${inputs} inputs, best of a few rounds`,
);
console.table(
  Object.fromEntries(
    Object.entries({ 'by hand': hand.ms, [`blocks of ${lanes}`]: blocks.ms, 'mathjs compiled': mathjs.ms }).map(
      ([name, ms]) => [
        name,
        {
          ms: Number(ms.toFixed(1)),
          'times by hand': Number((ms / hand.ms).toFixed(1)),
          'ns an evaluation': Number(((ms * 1e6) / evaluations).toFixed(1)),
        },
      ],
    ),
  ),
);
