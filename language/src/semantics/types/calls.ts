/** `f(…)`: which of the language's functions, a builder's function or a curve is meant. Each group has a file of its own. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { Expr } from '../ir.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { builtins } from './builtins.ts';
import { readCurveCall, readCurveFunction } from './curves.ts';
import { readElementwise, readStanding, readView } from './elementwise.ts';
import { target, type Due, type Env } from './env.ts';
import { readFunction } from './functions.ts';
import { nothing } from './make.ts';
import { readAlong, readReduction } from './reductions.ts';
import { readLocal, reportMinus } from './references.ts';
import { readSpecial } from './searches.ts';

/** `curve`: the figure that the name stands for, where it is one (a curve of a part). */
export function readCall(ref: ast.Ref, step: ast.RefStep, env: Env, due: Due, curve: Expr | null = null): Expr {
  const call = step.call!;
  const inner = { ...env, unit: null };
  if (curve) return readCurveCall(ref, curve, call, inner);
  const builtin = builtins.get(step.name);
  switch (builtin?.shape) {
    case 'elementwise':
      return readElementwise(ref, step.name, call, inner, due);
    case 'standing':
      return readStanding(ref, step.name, call, inner);
    case 'view':
      return readView(ref, step.name, call, inner, due);
    case 'reduction':
      return readReduction(ref, step.name, call, inner);
    case 'along':
      return readAlong(ref, step.name, call, inner);
    case 'curve':
      return readCurveFunction(ref, step.name, call, inner);
    case 'special':
      return readSpecial(ref, step.name, call, inner, due);
    default:
      return readNamed(ref, step, call, inner);
  }
}

function readNamed(ref: ast.Ref, step: ast.RefStep, call: ast.Call, env: Env): Expr {
  const { name } = step;
  const local = readLocal(step, env);
  if (local) return readCurveCall(ref, local, call, env);
  const known = env.library.functions.get(name);
  if (known) {
    env.report.means(target(env, step, 'name'), { is: 'function', origin: { uri: known.uri, at: known.item } });
    return readFunction(ref, known, call, env);
  }
  const found = env.draft.lookUp(name, env.mount);
  if (found?.is === 'slot') {
    env.report.means(target(env, step, 'name'), { ...found, draft: env.draft });
    const { type, axes } = env.draft.slots[found.slot]!;
    return readCurveCall(ref, { op: 'slot', slot: found.slot, type: { value: type, axes }, at: ref }, call, env);
  }
  if (reportMinus(ref, 0, null, env)) return nothing(ref);
  const near = env.report.nearest(name, [
    ...builtins.keys(),
    ...env.library.functions.keys(),
    ...env.draft.namesSeen(env.mount),
  ]);
  const at = target(env, step, 'name');
  env.report.add('name.no-such-function', at, { name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
  return nothing(ref);
}

/** Exactly so many arguments; reported at the call. */
export function argumentsDue(ref: ast.Ref, call: ast.Call, least: number, most: number, env: Env): boolean {
  const here = call.args.length;
  if (here >= least && here <= most) return true;
  const name = ref.steps[ref.steps.length - 1]!.name;
  reportCount(call, name, figures(least, most), builtins.get(name)?.call ?? written(name, env), env);
  return false;
}

export function reportCount(call: ast.Call, name: string, due: string, asIn: string, env: Env): void {
  const here = call.args.length;
  env.report.add('call.arguments', target(env, call), {
    function: name,
    due,
    here: here === 0 ? 'is none' : here === 1 ? 'is 1' : `are ${here}`,
    call: asIn,
  });
}

export function figures(least: number, most = least): string {
  if (least === most) return least === 1 ? '1 figure' : `${least} figures`;
  return most === Infinity ? `${least} figures or more` : `${least} to ${most} figures`;
}

/** A builder's function as it is called. */
function written(name: string, env: Env): string {
  return `${name}(${(env.library.functions.get(name)?.item.parameters ?? []).map((parameter) => parameter.name).join(', ')})`;
}
