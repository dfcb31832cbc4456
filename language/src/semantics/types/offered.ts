/** offered(PATH): a property over the parts and families that the file sees: what can be bought. */
import type * as ast from '../../grammar/generated/ast.ts';
import { caps } from '@thou/shared/limits';
import type { Expr } from '../ir.ts';
import { argumentsDue } from './calls.ts';
import { due as dueOf, target, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { measureOf, nothing, typed } from './make.ts';
import { exprWords, textOf } from './words.ts';

export function readOffered(ref: ast.Ref, call: ast.Call, env: Env): Expr {
  if (!argumentsDue(ref, call, 1, 1, env)) return nothing(ref);
  const asked = readExpression(call.args[0], env, dueOf(null));
  if (asked.op !== 'slot') {
    if (asked.type.value.is !== 'unsettled')
      env.report.add('dimension.argument', target(env, asked.at ?? ref), {
        function: 'offered',
        due: 'the name of a figure of a part',
        value: textOf(asked.at),
        type: exprWords(asked, env),
      });
    return nothing(ref);
  }
  const slot = env.draft.slots[asked.slot]!;
  const { component } = env.draft.mounts[slot.mount]!;
  const { values, names } = sizesOf(component, slot.name, env);
  const to = env.draft.openAxis('offered', { uri: env.uri, at: ref });
  return { op: 'offered', values, names, to, type: typed(slot.type, [to]), at: ref };
}

/** Sizes in the order of the parts; a family gives one for each step. */
function sizesOf(component: string, property: string, env: Env): { values: number[]; names: string[] } {
  const values: number[] = [];
  const names: string[] = [];
  for (const { item } of env.parts.all(component)) {
    for (const member of item.body?.members ?? []) {
      if (member.$type !== 'Given' || member.path.steps.length !== 1 || member.path.steps[0]!.name !== property)
        continue;
      for (const value of figuresOf(member, env)) {
        if (values.length >= caps.axisSize) return { values, names };
        values.push(value);
        names.push(item.name);
      }
    }
  }
  return { values, names };
}

function figuresOf(given: ast.Given, env: Env): number[] {
  const read = readExpression(given.value, { ...env, unit: null }, dueOf(null));
  if (!given.step)
    return read.op === 'constant'
      ? [read.value]
      : read.op === 'toleranced' && read.nominal.op === 'constant'
        ? [read.nominal.value]
        : [];
  return familySizes(given, env) ?? [];
}

/** The sizes of a family `low..high step by`; null where it is none or too long. */
export function familySizes(given: ast.Given, env: Env): number[] | null {
  const range = readExpression(given.value, { ...env, unit: null }, dueOf(null));
  const value = range.type.value;
  if (range.op !== 'limits' || value.is !== 'limits' || range.low?.op !== 'constant' || range.high?.op !== 'constant')
    return null;
  const step = readExpression(given.step, { ...env, unit: null }, dueOf(measureOf(value.measure), [], 'the step'));
  if (step.op !== 'constant' || !(step.value > 0)) return null;
  const [low, high] = [range.low.value, range.high.value];
  const many = Math.floor((high - low) / step.value + 1e-9) + 1;
  return many > caps.axisSize ? null : Array.from({ length: Math.max(0, many) }, (_, i) => low + i * step.value);
}
