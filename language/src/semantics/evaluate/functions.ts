/** Elementwise functions of figures. What has no real result is missing, with the reason in words. */
import type { Apply, Elementwise } from '../ir.ts';
import { withoutUnreal } from './arithmetic.ts';
import type { Frame } from './frame.ts';
import { isFresh, pairUp } from './pairs.ts';
import type { Pair } from './pairs.ts';
import { evaluateStanding, isStanding } from './standing.ts';
import { figures, numbers } from './tensor.ts';
import type { Numbers, Tensor } from './value.ts';

const tolerance = 1e-9;

export function evaluateApply(expr: Apply, frame: Frame): Numbers {
  if (isStanding(expr.function)) return numbers(evaluateStanding(expr, frame));
  if (expr.args.length === 1) return numbers(single(expr, frame));
  return numbers(folded(expr, frame));
}

function single(expr: Apply, frame: Frame): Tensor {
  const arg = expr.args[0]!;
  const { axes, data, mark } = frame.tensor(arg);
  const out = isFresh(arg) ? data : new Float64Array(data.length);
  const result = { axes, data: out, mark };
  const reason = applySingle(expr.function, data, out);
  return reason === null ? result : withoutUnreal(result, reason, expr, frame);
}

/** Writes f(x) to `out`; returns what to say where that is no figure, null where it always is one. */
function applySingle(name: Elementwise, x: Float64Array, out: Float64Array): string | null {
  const n = x.length;
  switch (name) {
    case 'abs':
      for (let i = 0; i < n; i++) out[i] = Math.abs(x[i]!);
      return null;
    case 'sign':
      for (let i = 0; i < n; i++) out[i] = Math.sign(x[i]!);
      return null;
    case 'sqrt':
      for (let i = 0; i < n; i++) out[i] = Math.sqrt(x[i]!);
      return 'the root of a negative figure';
    case 'exp':
      for (let i = 0; i < n; i++) out[i] = Math.exp(x[i]!);
      return 'a power too great to reckon with';
    case 'log':
      for (let i = 0; i < n; i++) out[i] = Math.log(x[i]!);
      return 'the logarithm of a figure that is not above zero';
    case 'log10':
      for (let i = 0; i < n; i++) out[i] = Math.log10(x[i]!);
      return 'the logarithm of a figure that is not above zero';
    case 'sin':
      for (let i = 0; i < n; i++) out[i] = Math.sin(x[i]!);
      return null;
    case 'cos':
      for (let i = 0; i < n; i++) out[i] = Math.cos(x[i]!);
      return null;
    case 'tan':
      for (let i = 0; i < n; i++) out[i] = Math.tan(x[i]!);
      return null;
    case 'asin':
      for (let i = 0; i < n; i++) out[i] = Math.asin(x[i]!);
      return 'no angle has a sine beyond 1';
    case 'acos':
      for (let i = 0; i < n; i++) out[i] = Math.acos(x[i]!);
      return 'no angle has a cosine beyond 1';
    case 'atan':
      for (let i = 0; i < n; i++) out[i] = Math.atan(x[i]!);
      return null;
    case 'round':
      for (let i = 0; i < n; i++) out[i] = Math.sign(x[i]!) * Math.floor(Math.abs(x[i]!) + 0.5 + slack(x[i]!));
      return null;
    case 'floor':
      for (let i = 0; i < n; i++) out[i] = Math.floor(x[i]! + slack(x[i]!));
      return null;
    case 'ceiling':
      for (let i = 0; i < n; i++) out[i] = Math.ceil(x[i]! - slack(x[i]!));
      return null;
    case 'absolute':
    case 'largest':
    case 'smallest':
    case 'hypot':
      for (let i = 0; i < n; i++) out[i] = name === 'hypot' ? Math.abs(x[i]!) : x[i]!;
      return null;
    default:
      throw new Error(`${name} takes more than one figure.`);
  }
}

/** What counts as nothing beside a whole number of that size. */
function slack(x: number): number {
  return tolerance * Math.max(1, Math.abs(x));
}

/** `largest(a, b, c)` and the like: two by two, from the left. */
function folded(expr: Apply, frame: Frame): Tensor {
  const [first, ...others] = expr.args;
  let result = frame.tensor(first!);
  let fresh = isFresh(first!);
  for (const other of others) {
    const pair = pairUp(result, figures(frame.value(other)), fresh, isFresh(other));
    const reason = applyPair(expr.function, pair, expr.option);
    const tensor = { axes: pair.axes, data: pair.out, mark: pair.mark };
    result = reason === null ? tensor : withoutUnreal(tensor, reason, expr, frame);
    fresh = true;
  }
  return result;
}

function applyPair(name: Elementwise, { cells, a, b, stepA, stepB, out }: Pair, option: string | null): string | null {
  switch (name) {
    case 'largest':
      for (let i = 0; i < cells; i++) out[i] = Math.max(a[i * stepA]!, b[i * stepB]!);
      return null;
    case 'smallest':
      for (let i = 0; i < cells; i++) out[i] = Math.min(a[i * stepA]!, b[i * stepB]!);
      return null;
    case 'atan2':
      for (let i = 0; i < cells; i++) out[i] = Math.atan2(a[i * stepA]!, b[i * stepB]!);
      return null;
    case 'hypot':
      for (let i = 0; i < cells; i++) out[i] = Math.hypot(a[i * stepA]!, b[i * stepB]!);
      return null;
    case 'wrap':
      for (let i = 0; i < cells; i++) out[i] = wrapped(a[i * stepA]!, b[i * stepB]!);
      return 'a period that is not above zero';
    case 'wrap-centred':
      for (let i = 0; i < cells; i++) out[i] = wrappedAround(a[i * stepA]!, b[i * stepB]!);
      return 'a period that is not above zero';
    case 'to-step': {
      const rounded = option === 'up' ? up : option === 'down' ? down : nearest;
      for (let i = 0; i < cells; i++) {
        const [x, step] = [a[i * stepA]!, b[i * stepB]!];
        out[i] = step > 0 ? rounded(x / step) * step : NaN;
      }
      return 'a step that is not above zero';
    }
    default:
      throw new Error(`${name} takes one figure.`);
  }
}

/** In [0, period); within 1e-9 of the period gives 0. */
function wrapped(x: number, period: number): number {
  if (!(period > 0)) return NaN;
  const rest = x - Math.floor(x / period) * period;
  return rest >= period * (1 - tolerance) ? 0 : rest < 0 ? 0 : rest;
}

/** In [−period/2, period/2). */
function wrappedAround(x: number, period: number): number {
  if (!(period > 0)) return NaN;
  return wrapped(x + period / 2, period) - period / 2;
}

/** Steps; a whole number of them, within 1e-9 of a step, stays what it is. */
function up(steps: number): number {
  return Math.ceil(steps - slack(steps));
}
function down(steps: number): number {
  return Math.floor(steps + slack(steps));
}
function nearest(steps: number): number {
  return Math.floor(steps + 0.5 + slack(steps));
}
