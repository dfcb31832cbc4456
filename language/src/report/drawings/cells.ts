// Places of one figure, each against its own limits.
import type { CellsChart, CellsRow, Standing } from '@thou/shared/drawing/cells';
import type { CheckOutcome, CheckState, Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import { cellCount, held, placesOf, placeWords } from '../cells.ts';
import { stateWords } from '../check-words.ts';
import { sharesPlaces } from '../standing.ts';
import { inUnit } from '../units.ts';
import { axisOf, figureAt, showingOf, slotAt } from './figures.ts';
import type { CellsPlan } from './plan.ts';

/** More rows are no drawing any more. */
const mostRows = 48;

const standings: Readonly<Record<CheckState, Standing>> = {
  'holds-measured': 'holds',
  'holds-on-paper': 'holds',
  'at-risk': 'at-risk',
  'out-of-limits': 'out',
  accepted: 'accepted',
  'cannot-tell': 'unchecked',
  'not-applicable': 'unchecked',
};

export function cellsDrawing(outcome: Outcome, plan: CellsPlan): CellsChart | null {
  const one = slotAt(outcome, plan.figure);
  const count = one ? cellCount(one.axes) : 0;
  if (!one || count === 0 || count > mostRows) return null;
  const rows = Array.from({ length: count }, (_, cell) => rowOf(outcome, one, cell));
  if (rows.every(({ figure }) => figure === null) || rows.every(({ low, high }) => low === null && high === null))
    return null;
  return {
    title: `${plan.title}, ${outcome.binding.name}`,
    description: `${plan.description} ${counted(rows)}`.trim(),
    along: axisOf(outcome, one),
    rows,
  };
}

function rowOf(outcome: Outcome, one: SlotOutcome, cell: number): CellsRow {
  const showing = showingOf(outcome, one);
  const places = placesOf(one.axes, cell);
  const check = checkOn(outcome, one);
  const found = check?.cells.find((each) => sharesPlaces(one, places, check, each.places));
  const shown = (si: number | null | undefined): number | null =>
    si === null || si === undefined || !Number.isFinite(si) ? null : inUnit(si, showing);
  const off = one.uncertainty()[cell] ?? null;
  const asked = check?.kind === 'to-size' ? held(one.views.ordered, one.axes, cell) : null;
  return {
    name: one.axes.flatMap((axis, at) => (axis.size > 1 ? [placeWords(axis, places[at]!)] : [])).join(' '),
    figure: shown(figureAt(one, cell)),
    low: shown(found?.low),
    high: shown(found?.high),
    nominal: asked?.is === 'number' ? shown(asked.value) : null,
    plusMinus: off !== null && off > 0 ? inUnit(2 * off, showing, 'difference') : null,
    standing: found ? standings[found.state] : 'unchecked',
    state: found && found.state !== 'not-applicable' ? stateWords[found.state] : '',
  };
}

/** What speaks on the figure: a rule or a demand, else the size that was asked for. */
function checkOn({ checks }: Outcome, { slot }: SlotOutcome): CheckOutcome | null {
  const on = checks.filter((check) => check.slot?.id === slot.id && check.state !== 'not-applicable');
  return on.find(({ kind }) => kind !== 'to-size') ?? on[0] ?? null;
}

function counted(rows: readonly CellsRow[]): string {
  const states = new Map<string, number>();
  for (const { state } of rows) if (state !== '') states.set(state, (states.get(state) ?? 0) + 1);
  const parts = [...states].map(([state, count]) => `${count} ${state}`);
  return parts.length === 0 ? '' : `Of ${rows.length}: ${parts.join('; ')}.`;
}
