/** Gauges of the file: the one component that the language itself knows, since every reading leans on one. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { Env, PartSeen } from '../types/env.ts';
import { due as dueOf } from '../types/env.ts';
import { readExpression } from '../types/expression.ts';
import type { Instrument } from './binding.ts';

export const instrumentComponent = 'Instrument';

export function instrumentsSeen(env: Env): Map<string, Instrument> {
  const found = new Map<string, Instrument>();
  for (const seen of env.parts.all(instrumentComponent)) {
    const { item, uri } = seen;
    const day = given(seen, 'calibrated', env)?.value;
    found.set(item.name, {
      name: item.name,
      resolution: figure(seen, 'resolution', env),
      uncertainty: figure(seen, 'uncertainty', env),
      calibrated: day?.$type === 'Day' ? day.date : null,
      origin: { uri, at: item },
    });
  }
  return found;
}

function given(seen: PartSeen, name: string, env: Env, depth = 0): ast.Given | undefined {
  const own = seen.item.body?.members.find(
    (member): member is ast.Given =>
      member.$type === 'Given' && member.path?.steps.length === 1 && member.path.steps[0]!.name === name,
  );
  const base = own || !seen.item.base || depth > 64 ? undefined : env.parts.find(seen.item.base);
  return own ?? (base && given(base, name, env, depth + 1));
}

function figure(seen: PartSeen, name: string, env: Env): number | null {
  const value = given(seen, name, env)?.value;
  if (!value) return null;
  const read = readExpression(value, { ...env, uri: seen.uri }, dueOf(null));
  return read.op === 'constant' ? read.value : null;
}
