/**
 * Axes that stand for a few other places of a settled axis while an extreme is looked for between its samples.
 * Told apart by identity alone, so that plan and interpreter need no flag on every axis.
 */
import type { AxisId } from '../types/type.ts';
import type { Axis } from './value.ts';

export interface Refinement {
  readonly settled: Axis;
  /** Set when something needed whole places of the axis (a neighbour, a rank): no value can be had between samples. */
  needsPlaces: boolean;
}

const refinements = new WeakMap<Axis, Refinement>();

/** An axis of `size` places that takes the place of `settled`. */
export function refinedAxis(settled: Axis, size: number): { readonly axis: Axis; readonly refinement: Refinement } {
  const axis: Axis = {
    id: settled.id,
    name: settled.name,
    size,
    labels: null,
    coordinates: new Float64Array(size).fill(NaN),
  };
  const refinement: Refinement = { settled, needsPlaces: false };
  refinements.set(axis, refinement);
  return { axis, refinement };
}

export function refinementOf(axis: Axis): Refinement | null {
  return refinements.get(axis) ?? null;
}

/** An axis that only a search knows: its trial places. */
export function trialAxis(id: AxisId, name: string, size: number): Axis {
  return { id, name, size, labels: null, coordinates: Float64Array.from({ length: size }, (_, place) => place + 1) };
}
