/** A written type: a named measure or a product of them, a choice, a component, an axis, a curve, limits. */
import type * as ast from '../../grammar/generated/ast.ts';
import { combine, namedMeasures, raise, type Measure } from '@thou/shared/dimension/types';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { target, type Env } from './env.ts';
import { date, flag, text, unsettled } from './make.ts';
import type { AxisId, ValueType } from './type.ts';

export interface TypeRead {
  readonly value: ValueType;
  /** Set where the type is a component: the property mounts it. */
  readonly component: string | null;
  readonly axes: readonly AxisId[];
}

export function readType(type: ast.Type | undefined, env: Env): TypeRead {
  if (!type) return { value: unsettled, component: null, axes: [] };
  const axes = type.axes.map((name, i) => readAxis(name, type, i, env)).filter((axis): axis is AxisId => axis !== null);
  type.choices.forEach((name, i) => {
    if (name === 'others') env.report.add('name.reserved', target(env, type, 'choices', i), { name });
  });
  if (type.choices.length > 0) env.draft.choiceTypes.set(type.choices, { type, uri: env.uri });
  if (type.choices.length > 0) return { value: { is: 'choice', names: type.choices }, component: null, axes };
  const component = componentOf(type, env);
  if (component) return { value: { is: 'part', component }, component, axes };
  return { value: readValueType(type, env), component: null, axes };
}

function readAxis(name: string, type: ast.Type, index: number, env: Env): AxisId | null {
  const axis = env.draft.axisNamed(name, env.mount);
  if (axis === null) {
    const near = env.report.nearest(name, env.draft.axisNames(env.mount));
    const at = target(env, type, 'axes', index);
    env.report.add('name.no-such-axis', at, { name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
  } else env.report.means(target(env, type, 'axes', index), { is: 'axis', axis, draft: env.draft });
  return axis;
}

/** The component that a type names, where it is one. */
export function componentOf(type: ast.Type, env: Pick<Env, 'library'>): string | null {
  return type.of?.$type === 'TypeName' && env.library.components.has(type.of.name) ? type.of.name : null;
}

function readValueType(type: ast.Type, env: Env): ValueType {
  const plain = type.of?.$type === 'TypeName' ? plainType(type.of, env) : null;
  if (plain && !type.limits && type.against.length === 0) return plain;
  const measure = type.of ? readMeasure(type.of, env) : null;
  if (!measure) return unsettled;
  if (type.limits) return { is: 'limits', measure };
  if (type.against.length === 0) return { is: 'measure', measure };
  const against = type.against.map((one) => readMeasure(one, env));
  return against.every((one): one is Measure => one !== null) ? { is: 'curve', result: measure, against } : unsettled;
}

function plainType(type: ast.TypeName, env: Env): ValueType | null {
  const { name } = type;
  switch (name) {
    case 'Flag':
      return flag;
    case 'Text':
      return text;
    case 'Date':
      return date;
    case 'Any':
      return { is: 'any' };
    default: {
      if (env.library.measure(name)) return null;
      const axis = env.draft.axisNamed(name, env.mount);
      if (axis === null) return null;
      env.report.means(target(env, type, 'name'), { is: 'axis', axis, draft: env.draft });
      return { is: 'index', axis };
    }
  }
}

/** A product, quotient or power of named measures. Reported at the name that is none. */
export function readMeasure(type: ast.TypeExpr, env: Env): Measure | null {
  switch (type.$type) {
    case 'TypeName': {
      const measure = env.library.measure(type.name);
      if (measure) return measure;
      if (type.name) unknownType(type, env);
      return null;
    }
    case 'TypePower': {
      const base = readMeasure(type.base, env);
      return base && raise(base, Number(type.exponent));
    }
    default: {
      const [left, right] = [readMeasure(type.left, env), readMeasure(type.right, env)];
      return left && right && combine(type.operator, left, right);
    }
  }
}

function unknownType(type: ast.TypeName, env: Env): void {
  const names = [
    ...namedMeasures.keys(),
    ...env.library.measures.keys(),
    ...env.library.components.keys(),
    'Flag',
    'Text',
    'Date',
    'Any',
    ...env.draft.axisNames(env.mount),
  ];
  const near = env.report.nearest(type.name, names);
  const at = target(env, type);
  env.report.add('name.no-such-type', at, { name: type.name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
}
