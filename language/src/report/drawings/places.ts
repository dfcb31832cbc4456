// Places along an axis as they lie in a plane, with the turn of each.
import type { PlacesPlot } from '@thou/shared/drawing/places';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import { cellCount, placeName } from '../cells.ts';
import { inUnit } from '../units.ts';
import { axisOf, figureAt, showingOf, slotAt } from './figures.ts';
import type { PlacesPlan } from './plan.ts';

/** More of them are no drawing any more. */
const mostPlaces = 60;

/** Null where not every place is known, with its turn. */
export function placesPlot(outcome: Outcome, plan: PlacesPlan): PlacesPlot | null {
  const [turns, across, up] = [plan.turn.path, plan.across, plan.up].map((path) => slotAt(outcome, path));
  if (!turns || !across || !up) return null;
  const [axis, ...more] = turns.axes;
  if (!axis || more.length > 0 || axis.size > mostPlaces) return null;
  const [showX, showY] = [showingOf(outcome, across), showingOf(outcome, up)];
  if ([across, up].some((one) => cellCount(one.axes) !== axis.size)) return null;
  const points = Array.from({ length: axis.size }, (_, place) => {
    const [turn, x, y] = [turns, across, up].map((one) => figureAt(one, place));
    if (turn === null || turn === undefined || typeof x !== 'number' || typeof y !== 'number') return null;
    return { name: String(placeName(axis, place)), turn, x: inUnit(x, showX), y: inUnit(y, showY) };
  }).filter((point) => point !== null);
  if (points.length < Math.max(2, axis.size)) return null;
  const order = points.toSorted((a, b) => a.turn - b.turn).map(({ name }) => name);
  return {
    title: `${plan.title}, ${outcome.binding.name}`,
    description: `${plan.description} In turn: ${order.join(', ')}.`,
    place: axis.name,
    turn: plan.turn.name,
    across: axisOf(outcome, across),
    up: axisOf(outcome, up),
    points,
  };
}
