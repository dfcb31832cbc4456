// What is to be read, with a blank for each place: figures along the same places share a table.
import { cellAt, placesOf, placeName, placeWords } from '../cells.ts';
import type { Axis } from '../../semantics/evaluate/value.ts';
import { capitalised, words } from '../place.ts';
import { pathWords } from '../check-words.ts';
import type { Reading } from '../sheet.ts';
import type { GridBlock, GridCell, GridRow } from './document.ts';
import { joined, noFigure } from './tables.ts';

type Group = { readonly by: string; readonly heads: readonly string[]; readonly rows: GridRow[] };

export function readingsGrid(title: string, readings: readonly Reading[]): GridBlock {
  const groups = new Map<string, Group>();
  for (const reading of readings) {
    const along = longest(reading.axes);
    const heads = along ? placesAlong(along) : ['Reading'];
    const by = along ? words(along.name) : '';
    const key = [by, ...heads].join('\n');
    const group = groups.get(key) ?? { by, heads, rows: [] };
    groups.set(key, group);
    group.rows.push(...rowsFor(reading, along));
  }
  return { is: 'grid', caption: title, groups: [...groups.values()] };
}

function longest(axes: readonly Axis[]): Axis | null {
  return axes.reduce<Axis | null>((most, axis) => (axis.size > (most?.size ?? 1) ? axis : most), null);
}

function placesAlong(axis: Axis): string[] {
  return Array.from({ length: axis.size }, (_, place) => words(String(placeName(axis, place))));
}

/** One row for each place on the other axes; no blank where nothing is due. */
function rowsFor({ path, axes, cells, unit, why, settles }: Reading, along: Axis | null): GridRow[] {
  const due = new Set(cells);
  const others = axes.filter((axis) => axis !== along);
  const count = others.reduce((product, { size }) => product * size, 1);
  const rows = Array.from({ length: count }, (_, other) => {
    const fixed = placesOf(others, other);
    const at = (place: number): number =>
      cellAt(
        axes,
        axes.map((axis) => (axis === along ? place : fixed[others.indexOf(axis)]!)),
      );
    const here = Array.from({ length: along?.size ?? 1 }, (_, place) => at(place));
    const where = others.flatMap((axis, index) => (axis.size > 1 ? [placeWords(axis, fixed[index]!)] : []));
    return { where: where.join(', '), here };
  }).filter(({ here }) => here.some((cell) => due.has(cell)));
  return rows.map(({ where, here }, index) => ({
    name: index === 0 ? capitalised(pathWords(path)) : '',
    address: path,
    where,
    unit,
    cells: here.map((cell): GridCell => ({ figure: due.has(cell) ? null : noFigure, address: null, marked: false })),
    limits: '',
    notes: index === 0 ? joined([why, settles === '' ? '' : `settles ${settles}`]) : '',
    further: index > 0,
    place: null,
  }));
}
