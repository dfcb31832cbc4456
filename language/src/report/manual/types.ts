// What a property, a formula or a parameter takes, in words, read off its declared type.
import type * as ast from '../../grammar/generated/ast.ts';
import { displayUnit } from '@thou/shared/number/format';
import { listed, textOf, words } from '../place.ts';

export function takesOf(type: ast.Type | undefined): string {
  if (!type) return '';
  const kind = type.choices.length > 0 ? listed(type.choices, 'or') : (textOf(type.of) ?? '');
  const limits = type.limits ? `limits of ${kind}` : kind;
  const against =
    type.against.length === 0 ? '' : ` against ${listed(type.against.map((measure) => textOf(measure) ?? ''))}`;
  const axes = type.axes.map((axis) => ` per ${words(axis)}`).join('');
  return `${limits}${against}${axes}${type.optional ? ', may be absent' : ''}`;
}

/** `0.0000 in / 0.000 mm`. */
export function shownOf(type: ast.Type | undefined): string {
  return (type?.shown ?? [])
    .map(({ digits, unit }) => (unit === undefined ? digits : `${digits} ${displayUnit(unit)}`))
    .join(' / ');
}
