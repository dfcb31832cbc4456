// The drawings of one build: those plans of the trade library whose figures are there.
import type { Drawing } from '@thou/shared/drawing/drawing';
import type { Chain } from '@thou/shared/drawing/chain';
import type { Circle } from '@thou/shared/drawing/circle';
import type { Orbit } from '@thou/shared/drawing/orbit';
import type { SheetDrawing } from '@thou/shared/result/sheet';
import { fixed } from '@thou/shared/number/format';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import { cellCount, cellsInWords, placesOf } from '../cells.ts';
import { pathWords } from '../check-words.ts';
import { capitalised } from '../place.ts';
import { inUnit } from '../units.ts';
import { cellsDrawing } from './cells.ts';
import { anyFigure, axisOf, figureAt, figureBeside, runsAlong, showingOf, slotAt } from './figures.ts';
import { linesChart, pairsChart, unitNamed } from './lines.ts';
import { placesPlot } from './places.ts';
import { pathsOf, signed, type ChainPlan, type CirclePlan, type DrawingPlan, type OrbitPlan } from './plan.ts';

export function drawingsOf(outcome: Outcome, plans: readonly DrawingPlan[]): SheetDrawing[] {
  return plans.flatMap((plan) => drawingOf(outcome, plan) ?? []);
}

/** Null where its figures are not there. */
export function drawingOf(outcome: Outcome, plan: DrawingPlan): SheetDrawing | null {
  const drawing = drawingBy(outcome, plan);
  return drawing && { name: plan.name, address: pathsOf(plan)[0]!, title: plan.title, drawing };
}

function drawingBy(outcome: Outcome, plan: DrawingPlan): Drawing | null {
  switch (plan.kind) {
    case 'cells':
      return made('cells', cellsDrawing(outcome, plan));
    case 'lines':
      return made('lines', linesChart(outcome, plan));
    case 'pairs':
      return made('lines', pairsChart(outcome, plan));
    case 'chain':
      return made('chain', chainOf(outcome, plan));
    case 'orbit':
      return made('orbit', orbitOf(outcome, plan));
    case 'circle':
      return made('circle', circleOf(outcome, plan));
    case 'places':
      return made('places', placesPlot(outcome, plan));
  }
}

function made<K extends Drawing['kind']>(kind: K, shows: (Drawing & { kind: K })['shows'] | null): Drawing | null {
  return shows === null ? null : ({ kind, shows } as Drawing);
}

/** At the place where least is left. */
function chainOf(outcome: Outcome, plan: ChainPlan): Chain | null {
  const rest = slotAt(outcome, plan.rest);
  if (!rest) return null;
  const known = Array.from({ length: cellCount(rest.axes) }, (_, cell) => cell).filter(
    (cell) => figureAt(rest, cell) !== null,
  );
  const [first, ...others] = known;
  if (first === undefined) return null;
  const cell = others.reduce((least, one) => (figureAt(rest, one)! < figureAt(rest, least)! ? one : least), first);
  const places = placesOf(rest.axes, cell);
  const showing = showingOf(outcome, rest);
  const links = plan.links.flatMap((link) => {
    const { path, sign } = signed(link);
    const one = slotAt(outcome, path);
    const si = one && figureBeside(one, rest.axes, places);
    return si === null
      ? []
      : [{ name: capitalised(pathWords(path)), length: sign * inUnit(si, showing, 'difference') }];
  });
  if (links.length < plan.links.length) return null;
  const { unit, decimals } = axisOf(outcome, rest);
  const where = cellsInWords(rest.axes, [places]);
  const left = inUnit(figureAt(rest, cell)!, showing);
  return {
    title: [plan.title, where, outcome.binding.name].filter(Boolean).join(', '),
    description: `${plan.description} ${capitalised(pathWords(plan.rest))} is ${fixed(left, decimals)} ${unit}.`,
    datum: plan.datum,
    unit,
    decimals,
    links,
    rest: { name: capitalised(pathWords(plan.rest)), length: left },
  };
}

function orbitOf(outcome: Outcome, plan: OrbitPlan): Orbit | null {
  const [across, up] = [slotAt(outcome, plan.across), slotAt(outcome, plan.up)];
  const [x, y] = [across && runsAlong(across, plan.along.axis), up && runsAlong(up, plan.along.axis)];
  if (!across || !up || !x || !y || x.runs.length !== 1 || y.runs.length !== 1) return null;
  const [showX, showY] = [showingOf(outcome, across), showingOf(outcome, up)];
  const along = { unit: unitNamed(plan.along.unit), decimals: plan.along.decimals };
  const points = [...x.axis.coordinates].flatMap((at, place) => {
    const [one, other] = [x.runs[0]!.si[place]!, y.runs[0]!.si[place]!];
    return Number.isFinite(one) && Number.isFinite(other)
      ? [{ at: inUnit(at, along), x: inUnit(one, showX), y: inUnit(other, showY) }]
      : [];
  });
  if (points.length < 2) return null;
  const reach = Math.max(...points.map((point) => Math.hypot(point.x, point.y)));
  const axis = axisOf(outcome, across);
  return {
    title: `${plan.title}, ${outcome.binding.name}`,
    description: `${plan.description} It reaches ${fixed(reach, axis.decimals)} ${axis.unit} from the middle.`,
    across: axis,
    up: axisOf(outcome, up),
    along: { name: pathWords(plan.along.axis), unit: plan.along.unit, decimals: plan.along.decimals },
    points,
  };
}

function circleOf(outcome: Outcome, plan: CirclePlan): Circle | null {
  const end = (one: { readonly place: string; readonly by: string }) => {
    const { path, sign } = signed(one.by);
    const figure = anyFigure(outcome, path);
    const place = plan.places.find(({ name }) => name === one.place);
    if (!figure || !place) return null;
    const { unit, decimals } = axisOf(outcome, figure.one);
    const off = sign * figure.shown;
    const side = off < 0 ? 'before' : 'after';
    return { at: place.at + off, told: `${fixed(Math.abs(off), decimals)} ${unit} ${side} ${place.name}` };
  };
  const spans = plan.spans.flatMap(({ name, from, to }) => {
    const [start, stop] = [end(from), end(to)];
    if (!start || !stop) return [];
    const behind = stop.at - start.at;
    return [
      {
        name,
        from: start.at,
        to: start.at + (behind < 0 ? behind + 360 : behind),
        begins: start.told,
        ends: stop.told,
      },
    ];
  });
  if (spans.length === 0) return null;
  const told = spans.map(({ name, begins, ends }) => `${name} from ${begins} to ${ends}`);
  return {
    title: `${plan.title}, ${outcome.binding.name}`,
    description: `${plan.description} ${capitalised(told.join('; '))}.`,
    spans,
    places: plan.places,
  };
}
