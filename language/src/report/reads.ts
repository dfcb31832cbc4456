// Which figures a formula reads, in the order in which they stand. Walks any expression without knowing its sorts.
import type { Expr, SlotId } from '../semantics/ir.ts';

/** The expressions that one is made of, in the order of writing. */
export function operands(expr: Expr): Expr[] {
  const found: Expr[] = [];
  const collect = (thing: unknown): void => {
    if (Array.isArray(thing)) return thing.forEach(collect);
    if (typeof thing !== 'object' || thing === null) return;
    if (isExpr(thing)) return void found.push(thing);
    for (const [key, inner] of Object.entries(thing)) if (key !== 'at' && key !== 'type') collect(inner);
  };
  for (const [key, inner] of Object.entries(expr)) if (key !== 'at' && key !== 'type') collect(inner);
  return found;
}

function isExpr(thing: object): thing is Expr {
  return 'op' in thing && typeof thing.op === 'string';
}

/** Each once. */
export function slotsRead(expr: Expr): SlotId[] {
  const seen = new Set<SlotId>();
  const visit = (one: Expr): void => {
    if (one.op === 'slot') seen.add(one.slot);
    operands(one).forEach(visit);
  };
  visit(expr);
  return [...seen];
}
