/** Sums, products, quotients and powers of figures, and of limits by figures. The loops here decide how fast everything is. */
import type { BinaryOp, Negate } from '../ir.ts';
import type { Frame } from './frame.ts';
import { isFresh, pairUp } from './pairs.ts';
import type { Pair } from './pairs.ts';
import { figures, numbers, ownMarks, scalar } from './tensor.ts';
import { Mark } from './value.ts';
import type { LimitsValue, Tensor, Value } from './value.ts';

export type Arithmetic = '+' | '-' | '*' | '/' | '^';

export function isArithmetic(operator: string): operator is Arithmetic {
  return operator === '+' || operator === '-' || operator === '*' || operator === '/' || operator === '^';
}

export function evaluateArithmetic(expr: BinaryOp, operator: Arithmetic, frame: Frame): Value {
  const left = frame.value(expr.left);
  const right = frame.value(expr.right);
  if (left.is === 'limits' || right.is === 'limits') return limitsBy(operator, left, right, expr, frame);
  const pair = pairUp(figures(left), figures(right), isFresh(expr.left), isFresh(expr.right));
  return numbers(combine(operator, pair, expr, frame));
}

/** Without writing over either operand. */
function combineTensors(operator: Arithmetic, left: Tensor, right: Tensor, expr: BinaryOp, frame: Frame): Tensor {
  return combine(operator, pairUp(left, right, false, false), expr, frame);
}

function combine(operator: Arithmetic, pair: Pair, expr: BinaryOp, frame: Frame): Tensor {
  switch (operator) {
    case '+':
      return add(pair);
    case '-':
      return subtract(pair);
    case '*':
      return multiply(pair);
    case '/':
      return divide(pair, expr, frame);
    case '^':
      return power(pair, expr, frame);
  }
}

function add({ axes, cells, a, b, stepA, stepB, mark, out }: Pair): Tensor {
  if (stepA === 1 && stepB === 1) for (let i = 0; i < cells; i++) out[i] = a[i]! + b[i]!;
  else if (stepA === 1) {
    const y = b[0]!;
    for (let i = 0; i < cells; i++) out[i] = a[i]! + y;
  } else {
    const x = a[0]!;
    for (let i = 0; i < cells; i++) out[i] = x + b[i]!;
  }
  return { axes, data: out, mark };
}

function subtract({ axes, cells, a, b, stepA, stepB, mark, out }: Pair): Tensor {
  if (stepA === 1 && stepB === 1) for (let i = 0; i < cells; i++) out[i] = a[i]! - b[i]!;
  else if (stepA === 1) {
    const y = b[0]!;
    for (let i = 0; i < cells; i++) out[i] = a[i]! - y;
  } else {
    const x = a[0]!;
    for (let i = 0; i < cells; i++) out[i] = x - b[i]!;
  }
  return { axes, data: out, mark };
}

function multiply({ axes, cells, a, b, stepA, stepB, mark, out }: Pair): Tensor {
  if (stepA === 1 && stepB === 1) for (let i = 0; i < cells; i++) out[i] = a[i]! * b[i]!;
  else if (stepA === 1) {
    const y = b[0]!;
    for (let i = 0; i < cells; i++) out[i] = a[i]! * y;
  } else {
    const x = a[0]!;
    for (let i = 0; i < cells; i++) out[i] = x * b[i]!;
  }
  return { axes, data: out, mark };
}

function divide({ axes, cells, a, b, stepA, stepB, mark, out }: Pair, expr: BinaryOp, frame: Frame): Tensor {
  let zeros = false;
  if (stepB === 0) {
    const y = b[0]!;
    if (y === 0) zeros = true;
    for (let i = 0; i < cells; i++) out[i] = a[i]! / y;
  } else if (stepA === 1) {
    for (let i = 0; i < cells; i++) {
      const y = b[i]!;
      if (y === 0) zeros = true;
      out[i] = a[i]! / y;
    }
  } else {
    const x = a[0]!;
    for (let i = 0; i < cells; i++) {
      const y = b[i]!;
      if (y === 0) zeros = true;
      out[i] = x / y;
    }
  }
  const result = { axes, data: out, mark };
  return zeros ? withoutUnreal(result, 'a division by zero', expr, frame) : result;
}

function power({ axes, cells, a, b, stepA, stepB, mark, out }: Pair, expr: BinaryOp, frame: Frame): Tensor {
  if (stepB === 0 && b[0] === 2) {
    for (let i = 0; i < cells; i++) {
      const x = a[i * stepA]!;
      out[i] = x * x;
    }
    return { axes, data: out, mark };
  }
  if (stepB === 0 && b[0] === 3) {
    for (let i = 0; i < cells; i++) {
      const x = a[i * stepA]!;
      out[i] = x * x * x;
    }
    return { axes, data: out, mark };
  }
  for (let i = 0; i < cells; i++) out[i] = a[i * stepA]! ** b[i * stepB]!;
  return withoutUnreal({ axes, data: out, mark }, 'a power that has no real figure', expr, frame);
}

/** Cells whose operands have figures and whose result has none become missing, with the reason told once. */
export function withoutUnreal(
  tensor: Tensor,
  reason: string,
  expr: { readonly at: BinaryOp['at'] },
  frame: Frame,
): Tensor {
  const { axes, data, mark } = tensor;
  let marks: Uint8Array | null = null;
  for (let cell = 0; cell < data.length; cell++) {
    if (Number.isFinite(data[cell]) || (mark !== null && mark[cell]! >= Mark.missing)) continue;
    marks ??= ownMarks(mark, data.length);
    marks[cell] = Mark.missing;
    data[cell] = NaN;
  }
  if (marks === null) return tensor;
  frame.missing(reason, expr.at);
  return { axes, data, mark: marks };
}

/** Limits shift by a figure and scale by one; a negative factor swaps the ends. */
function limitsBy(operator: Arithmetic, left: Value, right: Value, expr: BinaryOp, frame: Frame): Value {
  const by = (limits: LimitsValue, other: Tensor): LimitsValue => ({
    is: 'limits',
    low: endBy(operator, limits.low, other),
    high: endBy(operator, limits.high, other),
  });
  if (left.is === 'limits' && right.is === 'numbers') {
    if (operator === '/') {
      const turned = combineTensors('/', scalar(1), right.tensor, expr, frame);
      return ordered({ is: 'limits', low: endBy('*', left.low, turned), high: endBy('*', left.high, turned) }, turned);
    }
    return operator === '*' ? ordered(by(left, right.tensor), right.tensor) : by(left, right.tensor);
  }
  if (right.is === 'limits' && left.is === 'numbers') {
    if (operator === '*') return ordered(by(right, left.tensor), left.tensor);
    if (operator === '+') return by(right, left.tensor);
    if (operator === '-') {
      const turned = swapped(right);
      return {
        is: 'limits',
        low: endBy('+', turned.low, left.tensor),
        high: endBy('+', turned.high, left.tensor),
      };
    }
  }
  return numbers(figures({ is: 'limits', low: scalar(NaN), high: scalar(NaN) }));
}

/** An open end stays open whatever it is shifted or scaled by. */
function endBy(operator: Arithmetic, end: Tensor, other: Tensor): Tensor {
  const { axes, cells, a, b, stepA, stepB, mark, out } = pairUp(end, other, false, false);
  for (let i = 0; i < cells; i++) {
    const x = a[i * stepA]!;
    const y = b[i * stepB]!;
    out[i] = operator === '+' ? x + y : operator === '-' ? x - y : x * y;
    if (Number.isNaN(out[i]) && Math.abs(x) === Infinity && !Number.isNaN(y)) out[i] = x;
  }
  return { axes, data: out, mark };
}

/** After scaling by `factor`: ends change places where it is negative. */
function ordered(limits: LimitsValue, factor: Tensor): LimitsValue {
  if (factor.data.every((figure) => !(figure < 0))) return limits;
  const pair = pairUp(limits.low, limits.high, false, false);
  const low = new Float64Array(pair.cells);
  const high = new Float64Array(pair.cells);
  for (let i = 0; i < pair.cells; i++) {
    const [x, y] = [pair.a[i * pair.stepA]!, pair.b[i * pair.stepB]!];
    low[i] = Math.min(x, y);
    high[i] = Math.max(x, y);
  }
  return {
    is: 'limits',
    low: { axes: pair.axes, data: low, mark: pair.mark },
    high: { axes: pair.axes, data: high, mark: pair.mark },
  };
}

function swapped({ low, high }: LimitsValue): LimitsValue {
  const negated = ({ axes, data, mark }: Tensor): Tensor => ({ axes, data: data.map((figure) => -figure), mark });
  return { is: 'limits', low: negated(high), high: negated(low) };
}

export function evaluateNegate(expr: Negate, frame: Frame): Value {
  const value = frame.value(expr.of);
  if (value.is === 'limits') return swapped(value);
  const { axes, data, mark } = figures(value);
  const out = isFresh(expr.of) ? data : new Float64Array(data.length);
  for (let i = 0; i < out.length; i++) out[i] = -data[i]!;
  return numbers({ axes, data: out, mark });
}
