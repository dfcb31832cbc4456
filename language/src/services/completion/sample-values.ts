/** A figure that may stand for a slot until the builder writes the real one: right in dimension and shape, as a snippet. */
import type { Draft } from '../../semantics/schema/draft.ts';
import type { Slot } from '../../semantics/schema/schema.ts';
import type { Library } from '../../semantics/names/library.ts';
import type { Measure } from '@thou/shared/dimension/types';
import { isNone } from '@thou/shared/dimension/dimension';
import { oneOf } from './snippets.ts';

/** Every spelling worth trying, the plainest first. */
export function sampleValues(slot: Slot, axes: readonly number[], draft: Draft, library: Library): string[] {
  const plain = sampleOf(slot, draft, library);
  if (plain === null) return [];
  const listed: string[] = [];
  for (let depth = 1, inner = plain; depth <= axes.length && depth <= 4; depth += 1)
    listed.push((inner = `[others: ${inner}]`));
  return [plain, ...listed];
}

function sampleOf({ type, shown }: Slot, draft: Draft, library: Library): string | null {
  const figure = (n: string, place: number, measure: Measure): string =>
    `\${${place}:${n}${unitText(measure, shown[0]?.unit?.symbol, library)}}`;
  switch (type.is) {
    case 'measure':
      return figure(type.measure.kind === 'count' ? '1' : '0', 1, type.measure);
    case 'limits':
      return `\${1:0..1${unitText(type.measure, shown[0]?.unit?.symbol, library)}}`;
    case 'flag':
      return oneOf(1, ['yes', 'no']);
    case 'text':
      return '"${1}"';
    case 'date':
      return '${1:2026-01-01}';
    case 'choice':
      return oneOf(1, type.names);
    case 'index':
      return oneOf(1, draft.axes[type.axis]?.labels ?? ['1']);
    case 'curve': {
      const key = (n: string): string => `${n}${unitText(type.against[0]!, undefined, library)}`;
      return type.against.length === 1
        ? `[${key('0')}: ${figure('0', 1, type.result)}, ${key('1')}: ${figure('1', 2, type.result)}]`
        : null;
    }
    default:
      return null;
  }
}

function unitText(measure: Measure, shown: string | undefined, library: Library): string {
  if (isNone(measure.dimension)) return '';
  const unit = shown ?? library.units.offered(measure.dimension)[0]?.symbol;
  return unit === undefined ? '' : ` ${unit}`;
}
