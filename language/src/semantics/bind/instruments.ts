/** Gauges of the file: the one component that the language itself knows, since every reading leans on one. */
import type { Measure } from '@thou/shared/dimension/types';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Expr } from '../ir.ts';
import type { Env, PartSeen } from '../types/env.ts';
import { due as dueOf } from '../types/env.ts';
import { readExpression } from '../types/expression.ts';
import type { Instrument } from './binding.ts';

export const instrumentComponent = 'Instrument';

export function instrumentsSeen(env: Env): Map<string, Instrument> {
  const found = new Map<string, Instrument>();
  for (const seen of env.parts.all(instrumentComponent)) {
    const { item, uri } = seen;
    found.set(item.name, {
      name: item.name,
      resolution: figure(seen, 'resolution', env),
      uncertainty: figure(seen, 'uncertainty', env),
      measure: measureOf(seen, 'resolution', env) ?? measureOf(seen, 'uncertainty', env),
      calibrated: day(seen, 'calibrated', env),
      expires: day(seen, 'expires', env),
      calibration: calibrationOf(seen, env),
      expansion: figure(seen, 'expansion', env),
      soak: figure(seen, 'soak', env),
      origin: { uri, at: item },
    });
  }
  return found;
}

/** Bases that begin others are followed so far: a circle is told elsewhere. */
const deepest = 64;

/** Two instruments made from one share its calibration until one of them is given another. */
function calibrationOf(seen: PartSeen, env: Env): string {
  const of = { name: seen.item.name, at: seen };
  for (let depth = 0; depth < deepest && !own(of.at, 'calibrated') && !own(of.at, 'uncertainty'); depth++) {
    const base = of.at.item.base ? env.parts.find(of.at.item.base) : undefined;
    if (!base) return seen.item.name;
    [of.at, of.name] = [base, base.item.name];
  }
  return given(of.at, 'calibrated', env) ? of.name : seen.item.name;
}

function own(seen: PartSeen, name: string): ast.Given | undefined {
  return seen.item.body?.members.find(
    (member): member is ast.Given =>
      member.$type === 'Given' && member.path?.steps.length === 1 && member.path.steps[0]!.name === name,
  );
}

function given(seen: PartSeen, name: string, env: Env, depth = 0): ast.Given | undefined {
  const here = own(seen, name);
  const base = here || !seen.item.base || depth > deepest ? undefined : env.parts.find(seen.item.base);
  return here ?? (base && given(base, name, env, depth + 1));
}

function day(seen: PartSeen, name: string, env: Env): string | null {
  const value = given(seen, name, env)?.value;
  return value?.$type === 'Day' ? value.date : null;
}

function figure(seen: PartSeen, name: string, env: Env): number | null {
  const read = readFigure(seen, name, env);
  return read?.op === 'constant' ? read.value : null;
}

function measureOf(seen: PartSeen, name: string, env: Env): Measure | null {
  const type = readFigure(seen, name, env)?.type.value;
  return type?.is === 'measure' ? type.measure : null;
}

function readFigure(seen: PartSeen, name: string, env: Env): Expr | null {
  const value = given(seen, name, env)?.value;
  return value ? readExpression(value, { ...env, uri: seen.uri }, dueOf(null)) : null;
}
