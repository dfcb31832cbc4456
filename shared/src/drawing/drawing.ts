// Every kind of drawing under one roof: as SVG, as the same figures in a table, as a file of its own.
import { cellsChart, cellsTable, type CellsChart } from './cells.ts';
import { chainDrawing, chainTable, type Chain } from './chain.ts';
import { tableOf, type Chart, type ChartTable } from './chart.ts';
import { circleDrawing, circleTable, type Circle } from './circle.ts';
import { lineChart } from './line-chart.ts';
import { orbitDrawing, orbitTable, type Orbit } from './orbit.ts';
import { placesDrawing, placesTable, type PlacesPlot } from './places.ts';
import { ownRules } from './style.ts';
import { standalone } from './svg.ts';

export type Drawing =
  | { readonly kind: 'lines'; readonly shows: Chart }
  | { readonly kind: 'cells'; readonly shows: CellsChart }
  | { readonly kind: 'chain'; readonly shows: Chain }
  | { readonly kind: 'orbit'; readonly shows: Orbit }
  | { readonly kind: 'circle'; readonly shows: Circle }
  | { readonly kind: 'places'; readonly shows: PlacesPlot };

/** For a page that brings the colours. */
export function drawn(drawing: Drawing): string {
  if (drawing.kind === 'lines') return lineChart(drawing.shows);
  if (drawing.kind === 'cells') return cellsChart(drawing.shows);
  if (drawing.kind === 'chain') return chainDrawing(drawing.shows);
  if (drawing.kind === 'orbit') return orbitDrawing(drawing.shows);
  return drawing.kind === 'circle' ? circleDrawing(drawing.shows) : placesDrawing(drawing.shows);
}

export function drawnAlone(drawing: Drawing): string {
  return standalone(drawn(drawing), ownRules());
}

export function figuresIn(drawing: Drawing): ChartTable {
  if (drawing.kind === 'lines') return tableOf(drawing.shows);
  if (drawing.kind === 'cells') return cellsTable(drawing.shows);
  if (drawing.kind === 'chain') return chainTable(drawing.shows);
  if (drawing.kind === 'orbit') return orbitTable(drawing.shows);
  return drawing.kind === 'circle' ? circleTable(drawing.shows) : placesTable(drawing.shows);
}
