// Finds the figure that a reader names, `plate[3].width[upper]`, `width[3]`, `reading[station: 3, top]`: slot and cell.
// Knows paths and axes; shows nothing.
import { nearest } from '@thou/shared/number/nearest';
import type { Axis } from '../semantics/evaluate/value.ts';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { cellCount, placeName, placesOf } from './cells.ts';
import { listed } from './place.ts';

export interface Located {
  readonly one: SlotOutcome;
  /** `null`: the reader named no place along this axis. */
  readonly places: readonly (number | null)[];
}

export function locate(outcome: Outcome, name: string): Located | { readonly problem: string } {
  const named = split(name, outcome.binding.schema.rootName);
  if (!named)
    return {
      problem: `"${name}" cannot be read as the name of a figure; write it as in the file, such as length or length[3].`,
    };
  const one = slotNamed(outcome, named.path);
  if ('problem' in one) return one;
  const places: (number | null)[] = one.axes.map(() => null);
  for (const key of named.keys) {
    const found = placeOfKey(one.axes, places, key);
    if (!found) return { problem: keyProblem(one, key) };
    places[found.axis] = found.place;
  }
  return { one, places };
}

/** All cells that were named, in their order. */
export function cellsNamed({ one, places }: Located): number[] {
  return Array.from({ length: cellCount(one.axes) }, (_, cell) => cell).filter((cell) =>
    placesOf(one.axes, cell).every((place, at) => places[at] === null || places[at] === place),
  );
}

interface Named {
  readonly path: string;
  readonly keys: readonly string[];
}

function split(name: string, rootName: string): Named | null {
  const whole = name.trim();
  if (!/^[\w-]+(\[[^[\]]*\])?(\.[\w-]+(\[[^[\]]*\])?)*$/.test(whole)) return null;
  const keys = [...whole.matchAll(/\[([^[\]]*)\]/g)].flatMap(([, inner]) => inner!.split(',').map((key) => key.trim()));
  const path = whole.replace(/\[[^[\]]*\]/g, '');
  return { path: path.startsWith(`${rootName}.`) ? path.slice(rootName.length + 1) : path, keys };
}

function slotNamed(outcome: Outcome, path: string): SlotOutcome | { readonly problem: string } {
  const { slots } = outcome;
  const exact = slots.find(({ slot }) => slot.path === path);
  if (exact) return exact;
  const ending = slots.filter(({ slot }) => slot.path.endsWith(`.${path}`));
  if (ending.length === 1) return ending[0]!;
  if (ending.length > 1) {
    return {
      problem: `"${path}" could be ${listed(
        ending.slice(0, 8).map(({ slot }) => slot.path),
        'or',
      )}.`,
    };
  }
  const other = otherThing(outcome, path);
  if (other !== null) return { problem: other };
  const near = nearest(
    path,
    slots.flatMap(({ slot }) => [slot.path, slot.name]),
    3,
  );
  return {
    problem: `There is no figure "${path}" in this build.${near.length > 0 ? ` Did you mean ${listed(near, 'or')}?` : ''}`,
  };
}

/** What has this name and is no figure: a part, which has figures, or a check, which looks at one. */
function otherThing({ slots, checks, binding: { schema } }: Outcome, path: string): string | null {
  const mount = schema.mountAt.get(path);
  if (mount !== undefined) {
    const own = slots.filter(({ slot }) => slot.mount === mount);
    const isGiven = (one: SlotOutcome): boolean => one.sourceOf(0, 'measured') !== null;
    const names = [...own.filter(isGiven), ...own.filter((one) => !isGiven(one))].map(({ slot }) => slot.path);
    const few = names.length > 4 ? [...names.slice(0, 3), 'others'] : names;
    return `"${path}" is a part, not a figure${few.length === 0 ? '' : `; it has ${listed(few)}`}.`;
  }
  const check = checks.find(({ id }) => id === path);
  if (!check) return null;
  const about = check.slot === null ? '' : `; it looks at ${check.slot.path}`;
  return `"${path}" is a check, not a figure${about}.`;
}

function placeOfKey(
  axes: readonly Axis[],
  taken: readonly (number | null)[],
  key: string,
): { readonly axis: number; readonly place: number } | null {
  const [, axisName, bare = key] = /^([\w-]+)\s*:\s*(.+)$/.exec(key) ?? [];
  for (const [at, axis] of axes.entries()) {
    if (taken[at] !== null || (axisName !== undefined && axis.name !== axisName)) continue;
    for (let place = 0; place < axis.size; place++) if (isNamed(axis, place, bare)) return { axis: at, place };
  }
  return null;
}

/** With its unit or without. */
function isNamed(axis: Axis, place: number, key: string): boolean {
  const name = String(placeName(axis, place));
  return name === key || (axis.unit !== undefined && name.startsWith(`${key} `));
}

function keyProblem({ slot, axes }: SlotOutcome, key: string): string {
  if (axes.length === 0) return `There is one ${slot.path}; it has no "${key}".`;
  const along = axes.map((axis) => {
    const names = Array.from({ length: axis.size }, (_, place) => String(placeName(axis, place)));
    return `${axis.name} ${names.length > 12 ? `${names[0]} to ${names[names.length - 1]}` : listed(names, 'or')}`;
  });
  return `"${key}" is no place of ${slot.path}, which has ${listed(along)}.`;
}
