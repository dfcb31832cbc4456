/** What a figure is, in a few words beside its name: `Length per row`. */
import { nameOf } from '@thou/shared/dimension/types';
import type { Draft } from '../../semantics/schema/draft.ts';
import type { Slot } from '../../semantics/schema/schema.ts';

export function typeText({ type, axes }: Slot, draft: Draft): string {
  const per = axes.map((axis) => ` per ${draft.axes[axis]?.name ?? ''}`).join('');
  switch (type.is) {
    case 'measure':
      return nameOf(type.measure) + per;
    case 'limits':
      return `${nameOf(type.measure)} limits${per}`;
    case 'choice':
      return type.names.join(' | ');
    case 'index':
      return `${draft.axes[type.axis]?.name ?? ''}${per}`;
    case 'curve':
      return `${nameOf(type.result)} against ${type.against.map((one) => nameOf(one)).join(', ')}${per}`;
    case 'part':
      return type.component;
    default:
      return type.is.charAt(0).toUpperCase() + type.is.slice(1);
  }
}
