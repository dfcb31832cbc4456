/** Types, axes and expressions in the reader's words. */
import type { AstNode } from 'langium';
import { nameOf } from '@thou/shared/dimension/types';
import { isWritten, sourceText } from '../../grammar/file.ts';
import type { Env } from './env.ts';
import type { Expr } from '../ir.ts';
import type { AxisId, ValueType } from './type.ts';

const longest = 40;

/** The text of a place, cut where it is long. */
export function textOf(at: AstNode | null): string {
  const words = (at && isWritten(at) ? sourceText(at) : 'this').replace(/\s+/g, ' ').trim();
  return words.length > longest ? `${words.slice(0, longest - 1)}…` : words;
}

/** "a Length", "an Energy", "a Torque or Energy"; sums of money and dimensions without a name bear no article. */
function withArticle(name: string): string {
  if (name.startsWith('Money') || /[/×²³⁻^]/.test(name)) return name;
  return /^[AEIOU]/.test(name) ? `an ${name}` : `a ${name}`;
}

export function typeWords(type: ValueType, env: Env): string {
  switch (type.is) {
    case 'measure':
      return withArticle(nameOf(type.measure, env.library.measures));
    case 'limits':
      return `limits of ${withArticle(nameOf(type.measure, env.library.measures))}`;
    case 'flag':
      return 'a yes or no';
    case 'text':
      return 'a text';
    case 'date':
      return 'a date';
    case 'choice':
      return `one of ${listed(type.names)}`;
    case 'index':
      return `a place along ${axisName(type.axis, env)}`;
    case 'curve':
      return `a curve of ${nameOf(type.result, env.library.measures)} against ${listed(
        type.against.map((measure) => nameOf(measure, env.library.measures)),
        'and',
      )}`;
    case 'part':
      return withArticle(type.component);
    default:
      return 'a figure';
  }
}

export function exprWords(expr: Expr, env: Env): string {
  return typeWords(expr.type.value, env);
}

function axisName(axis: AxisId, env: Env): string {
  return env.draft.axes[axis]?.name ?? 'this axis';
}

export function perWords(axes: readonly AxisId[], env: Env): string {
  return axes.length === 0 ? 'for all' : axes.map((axis) => `per ${axisName(axis, env)}`).join(' ');
}

/** `row or level`. */
export function axesWords(axes: readonly AxisId[], env: Env): string {
  return listed(axes.map((axis) => axisName(axis, env)));
}

export function listed(names: readonly string[], last = 'or'): string {
  if (names.length <= 1) return names[0] ?? '';
  return `${names.slice(0, -1).join(', ')} ${last} ${names[names.length - 1]}`;
}
