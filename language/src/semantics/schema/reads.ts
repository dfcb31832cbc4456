/** What an expression is made of, and the slots that it reads. Does not recurse: expressions may be deep. */
import type { Expr, SlotId } from '../ir.ts';

/** Reads of slots anywhere in an expression. */
export function slotsRead(whole: Expr): Set<SlotId> {
  const found = new Set<SlotId>();
  const open = [whole];
  for (let expr = open.pop(); expr; expr = open.pop()) {
    if (expr.op === 'slot') found.add(expr.slot);
    for (const part of partsOf(expr)) open.push(part);
  }
  return found;
}

/** The expressions directly inside another. */
function partsOf(expr: Expr): Expr[] {
  switch (expr.op) {
    case 'let':
      return [expr.value, expr.body];
    case 'coordinate':
      return expr.of ? [expr.of] : [];
    case 'binary':
      return [expr.left, expr.right];
    case 'negate':
    case 'not':
    case 'view':
    case 'inverse':
    case 'retitle':
      return [expr.of];
    case 'within':
      return [expr.value, expr.limits];
    case 'if':
      return [expr.condition, expr.yes, expr.no];
    case 'by-choice':
      return [expr.subject, ...expr.cases.map(({ value }) => value), ...(expr.others ? [expr.others] : [])];
    case 'apply':
      return [...expr.args];
    case 'reduce':
      return [expr.of, ...(expr.where ? [expr.where] : []), ...(expr.by ? [expr.by.index] : [])];
    case 'along':
      return [expr.of, ...expr.args];
    case 'gather':
      return [expr.of, expr.index];
    case 'list':
      return [...expr.entries.map(({ value }) => value), ...(expr.others ? [expr.others] : [])];
    case 'toleranced':
      return [expr.nominal, expr.low, expr.high];
    case 'limits':
      return [...(expr.low ? [expr.low] : []), ...(expr.high ? [expr.high] : [])];
    case 'repeated':
      return [...expr.readings];
    case 'curve':
      return [...expr.keys.flat(), ...expr.values];
    case 'curve-over':
      return [expr.keys, expr.values];
    case 'curve-call':
      return [expr.curve, ...expr.args];
    case 'curve-apply':
      return [expr.curve, ...expr.args];
    case 'solve':
      return [
        ...expr.unknowns.flatMap(({ from, to }) => [from, to]),
        ...expr.equations.flatMap(({ left, right }) => [left, right]),
      ];
    case 'assign':
      return [expr.cost, ...(expr.where ? [expr.where] : []), ...(expr.stock ? [expr.stock.of] : [])];
    case 'nearest-sum':
      return [expr.sizes, expr.target, expr.atMost];
    case 'pooled':
      return [...expr.parts];
    default:
      return [];
  }
}
