/**
 * Evaluates expressions over blocks of cells. Nothing is looked up by name and nothing is known in advance of shapes: axes come
 * with the values, so lanes may stand in any of them.
 */
import type { BinaryOp, Expr } from '../ir.ts';
import { evaluateAlong, evaluateInverse } from './along.ts';
import { evaluateArithmetic, evaluateNegate, isArithmetic } from './arithmetic.ts';
import { evaluateAssign } from './assign.ts';
import { evaluateByChoice, evaluateIf, evaluateOtherwise } from './choose.ts';
import type { EvalContext } from './context.ts';
import { evaluateCurve, evaluateCurveApply, evaluateCurveCall, evaluateCurveOver } from './curves/evaluate.ts';
import { Frame } from './frame.ts';
import { evaluateApply } from './functions.ts';
import { evaluateCoordinate, evaluateGather, evaluatePlace, evaluateRetitle } from './gather.ts';
import {
  evaluateLimits,
  evaluateList,
  evaluateOffered,
  evaluatePooled,
  evaluateRepeated,
  evaluateTable,
  evaluateToleranced,
} from './lists.ts';
import { mostCells } from './limits.ts';
import { evaluateComparison, evaluateJoined, evaluateNot, evaluateWithin } from './logic.ts';
import { evaluateNearestSum } from './nearest-sum.ts';
import { evaluateReduce } from './reduce.ts';
import { evaluateSolve } from './solve.ts';
import { evaluateView } from './standing.ts';
import { noAxes, numbers, scalar, TooManyCells, without } from './tensor.ts';
import { Mark } from './value.ts';
import type { Tensor, Value } from './value.ts';

/** The value of `expr` in `context`. Figures in SI; every cell is finite or marked missing or absent. Never throws for what a text says. */
export function evaluate(expr: Expr, context: EvalContext): Value {
  try {
    return finite(run(expr, new Frame(context, run)), expr, context);
  } catch (problem) {
    if (!(problem instanceof TooManyCells)) throw problem;
    context.missing(`it would have more than ${mostCells} cells`, expr.at);
    return numbers(without(noAxes));
  }
}

function run(expr: Expr, frame: Frame): Value {
  switch (expr.op) {
    case 'constant':
      return numbers(scalar(expr.value));
    case 'missing':
      if (expr.why !== null) frame.missing(expr.why, expr.at);
      return numbers(without(noAxes));
    case 'slot':
      return frame.context.slot(expr.slot, frame.context.view);
    case 'let':
      return frame.bind(expr.local, expr.value, expr.body);
    case 'local':
      return frame.local(expr.local);
    case 'was':
      return frame.context.was(expr.slot);
    case 'place':
      return evaluatePlace(expr, frame);
    case 'coordinate':
      return evaluateCoordinate(expr, frame);
    case 'binary':
      return evaluateBinary(expr, frame);
    case 'negate':
      return evaluateNegate(expr, frame);
    case 'not':
      return evaluateNot(expr, frame);
    case 'within':
      return evaluateWithin(expr, frame);
    case 'if':
      return evaluateIf(expr, frame);
    case 'by-choice':
      return evaluateByChoice(expr, frame);
    case 'apply':
      return evaluateApply(expr, frame);
    case 'view':
      return evaluateView(expr, frame);
    case 'reduce':
      return evaluateReduce(expr, frame);
    case 'along':
      return evaluateAlong(expr, frame);
    case 'inverse':
      return evaluateInverse(expr, frame);
    case 'gather':
      return evaluateGather(expr, frame);
    case 'retitle':
      return evaluateRetitle(expr, frame);
    case 'list':
      return evaluateList(expr, frame);
    case 'table':
      return evaluateTable(expr, frame);
    case 'toleranced':
      return evaluateToleranced(expr, frame);
    case 'limits':
      return evaluateLimits(expr, frame);
    case 'repeated':
      return evaluateRepeated(expr, frame);
    case 'curve':
      return evaluateCurve(expr, frame);
    case 'curve-over':
      return evaluateCurveOver(expr, frame);
    case 'curve-call':
      return evaluateCurveCall(expr, frame);
    case 'curve-apply':
      return evaluateCurveApply(expr, frame);
    case 'solve':
      return evaluateSolve(expr, frame);
    case 'assign':
      return evaluateAssign(expr, frame);
    case 'nearest-sum':
      return evaluateNearestSum(expr, frame);
    case 'pooled':
      return evaluatePooled(expr, frame);
    case 'offered':
      return evaluateOffered(expr, frame);
  }
}

function evaluateBinary(expr: BinaryOp, frame: Frame): Value {
  const { operator } = expr;
  if (isArithmetic(operator)) return evaluateArithmetic(expr, operator, frame);
  if (operator === 'and' || operator === 'or') return evaluateJoined(expr, operator, frame);
  if (operator === 'otherwise') return evaluateOtherwise(expr, frame);
  return evaluateComparison(expr, operator, frame);
}

/** A figure beyond all reckoning is missing, with that as its reason. */
function finite(value: Value, expr: Expr, context: EvalContext): Value {
  if (value.is !== 'numbers' || !overflowed(value.tensor)) return value;
  const { axes, data, mark } = value.tensor;
  context.missing('a figure too great to reckon with', expr.at);
  const marks = Uint8Array.from(data, (figure, cell) => {
    const own = mark === null ? Mark.exact : mark[cell]!;
    return Number.isFinite(figure) ? own : Math.max(own, Mark.missing);
  });
  return numbers(
    { axes, data: data.map((figure) => (Number.isFinite(figure) ? figure : NaN)), mark: marks },
    value.band,
  );
}

function overflowed({ data, mark }: Tensor): boolean {
  for (let cell = 0; cell < data.length; cell++) {
    if (!Number.isFinite(data[cell]) && (mark === null || mark[cell]! < Mark.missing)) return true;
  }
  return false;
}
