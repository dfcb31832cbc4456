// Which part stands on which mount, cell by cell. Knows the binding, not the parts' figures.
import type { AstNode } from 'langium';
import { docOf } from '../grammar/file.ts';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { BuildBinding, Layer, PartFitted } from '../semantics/bind/binding.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { Mount } from '../semantics/schema/schema.ts';
import { cellCount, placesOf } from './cells.ts';
import { sourceLine } from './place.ts';
import { namesPlace } from './typed.ts';

export interface Fitted {
  readonly mount: Mount;
  readonly axes: readonly Axis[];
  /** One a cell; null where no part of the shelf is named. */
  readonly parts: readonly (PartFitted | null)[];
}

const layers: readonly Layer[] = [
  'default',
  'mount-default',
  'practice',
  'part',
  'build',
  'variant',
  'machining',
  'measured',
];

/** Named by somebody; a part taken for granted is told of beside figures of what it is fitted to. */
export function isChosen({ parts }: Fitted): boolean {
  return parts.some((part) => part !== null && part.layer !== 'default' && part.layer !== 'mount-default');
}

/** What a part says that its figures are from: the `Source:` above it, such as its maker's data sheet with the date. */
export function sheetOfPart(declared: AstNode): string {
  return (sourceLine(docOf(declared)) ?? '').replace(/\.$/, '');
}

/** Mounts on which a named part is fitted, in the order of the schema. */
export function fittedParts({ binding, axes }: Outcome): Fitted[] {
  const given = allParts(binding);
  return binding.schema.mounts.flatMap((mount) => {
    const here = given.filter((part) => part.mount === mount.id);
    const along = axesOf(mount, binding)
      .map((id) => axes.get(id))
      .filter((axis) => axis !== undefined);
    if (here.length === 0 || along.length < axesOf(mount, binding).length) return [];
    const parts = Array.from({ length: cellCount(along) }, (_, cell) => speaking(here, along, placesOf(along, cell)));
    return parts.some((part) => part !== null) ? [{ mount, axes: along, parts }] : [];
  });
}

/** A mount's axes with those of the mounts that it hangs on, outermost first, each once. */
function axesOf(mount: Mount, { schema }: BuildBinding): number[] {
  const found: number[] = [];
  for (
    let step: Mount | undefined = mount;
    step;
    step = step.parent === null ? undefined : schema.mounts[step.parent]
  ) {
    found.unshift(...step.axes.filter((axis) => !found.includes(axis)));
  }
  return [...new Set(found)];
}

/** A variant's parts and those of its base that it does not replace. */
function allParts(binding: BuildBinding): PartFitted[] {
  if (!binding.base) return [...binding.parts];
  const replaced = binding.drops.mounts;
  return [...allParts(binding.base).filter(({ mount }) => !isBelow(mount, replaced, binding)), ...binding.parts];
}

function isBelow(mount: number, replaced: ReadonlySet<number>, { schema }: BuildBinding): boolean {
  for (
    let step: number | null | undefined = mount;
    step !== null && step !== undefined;
    step = schema.mounts[step]?.parent
  ) {
    if (replaced.has(step)) return true;
  }
  return false;
}

function speaking(parts: readonly PartFitted[], axes: readonly Axis[], places: readonly number[]): PartFitted | null {
  const weight = (part: PartFitted): number => layers.indexOf(part.layer) * 1e9 + part.order;
  return parts
    .filter((part) => covers(part, axes, places))
    .reduce<PartFitted | null>((most, part) => (most && weight(most) > weight(part) ? most : part), null);
}

function covers({ selector }: PartFitted, axes: readonly Axis[], places: readonly number[]): boolean {
  return selector.every(({ axis: id, key }) => {
    const at = axes.findIndex((axis) => axis.id === id);
    const axis = axes[at];
    return axis !== undefined && namesPlace(key, axis, places[at]!);
  });
}
