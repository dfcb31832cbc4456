// Charts as SVG and as tables: what is drawn is what is in the table, and nothing out of a file becomes markup.
import { describe, expect, it } from 'vitest';
import { cellsChart, cellsTable, type CellsChart } from '../../shared/src/drawing/cells.ts';
import { chainDrawing, type Chain } from '../../shared/src/drawing/chain.ts';
import { circleDrawing, circleTable, type Circle } from '../../shared/src/drawing/circle.ts';
import { drawn, drawnAlone, figuresIn, type Drawing } from '../../shared/src/drawing/drawing.ts';
import { orbitDrawing, type Orbit } from '../../shared/src/drawing/orbit.ts';
import type { PlacesPlot } from '../../shared/src/drawing/places.ts';
import { editorPalette, paletteText } from '../../shared/src/drawing/style.ts';
import { tableOf } from '../../shared/src/drawing/chart.ts';
import type { Chart } from '../../shared/src/drawing/chart.ts';
import { lineChart } from '../../shared/src/drawing/line-chart.ts';
import { decimalsFor, roundMarks } from '../../shared/src/drawing/scale.ts';

const chart: Chart = {
  title: 'gap against <shim> & "more"',
  description: 'gap goes from 1 to 3 mm.',
  across: { name: 'shim', unit: 'mm', decimals: 2 },
  up: { name: 'gap', unit: 'mm', decimals: 3 },
  at: [0, 1, 2, 3],
  lines: [
    { name: 'place 1', figures: [1, 2, 3, null] },
    { name: 'place <2>', figures: [null, 1.5, 1.25, 1] },
  ],
  limits: { low: 1.2, high: null, name: 'limits' },
  marks: [{ at: 1, name: 'now' }],
};

const cells: CellsChart = {
  title: 'gaps <against> their limits',
  description: 'Three places; one is out.',
  along: { name: 'gap', unit: 'mm', decimals: 3 },
  rows: [
    { name: 'place 1', figure: 1, low: 0.9, high: 1.1, nominal: 1, plusMinus: 0.02, standing: 'holds', state: 'holds' },
    {
      name: 'place 2',
      figure: 1.2,
      low: 0.9,
      high: 1.1,
      nominal: null,
      plusMinus: null,
      standing: 'out',
      state: 'out',
    },
    {
      name: 'place 3',
      figure: null,
      low: 0.9,
      high: null,
      nominal: null,
      plusMinus: null,
      standing: 'unchecked',
      state: 'missing',
    },
    {
      name: 'place 4',
      figure: 1.08,
      low: null,
      high: 1.1,
      nominal: null,
      plusMinus: 0.05,
      standing: 'at-risk',
      state: 'at risk',
    },
    {
      name: 'place 5',
      figure: 0.88,
      low: 0.9,
      high: 1.1,
      nominal: null,
      plusMinus: null,
      standing: 'accepted',
      state: 'accepted',
    },
  ],
};
const chain: Chain = {
  title: 'what adds up',
  description: 'Two plates less a gap.',
  datum: 'from the table',
  unit: 'mm',
  decimals: 2,
  links: [
    { name: 'plate', length: 30 },
    { name: 'cut', length: -10 },
    { name: 'shim', length: 0.01 },
  ],
  rest: { name: 'height', length: 20.01 },
};
const orbit: Orbit = {
  title: 'a circle',
  description: 'Once round.',
  across: { name: 'sideways', unit: 'N', decimals: 1 },
  up: { name: 'upwards', unit: 'N', decimals: 1 },
  along: { name: 'angle', unit: 'deg', decimals: 0 },
  points: Array.from({ length: 36 }, (_, at) => ({
    at: at * 10,
    x: 5 * Math.cos((at * Math.PI) / 18),
    y: 5 * Math.sin((at * Math.PI) / 18),
  })),
};
const circle: Circle = {
  title: 'a turn',
  description: 'Two spans.',
  spans: [
    { name: 'open', from: -30, to: 240, begins: '30 deg before the top', ends: '60 deg after the bottom' },
    { name: 'shut', from: 120, to: 180, begins: '60 deg before the bottom', ends: 'at the bottom' },
  ],
  places: [
    { at: 0, name: 'top' },
    { at: 180, name: 'bottom' },
  ],
};
const places: PlacesPlot = {
  title: 'in turn',
  description: 'From the middle outwards.',
  place: 'hole',
  turn: 'comes',
  across: { name: 'along', unit: 'mm', decimals: 1 },
  up: { name: 'across', unit: 'mm', decimals: 1 },
  points: [
    { name: '1', x: 0, y: -20, turn: 3 },
    { name: '2', x: 50, y: -20, turn: 1 },
    { name: '3', x: 100, y: 20, turn: 2 },
  ],
};
const everyKind: readonly Drawing[] = [
  { kind: 'lines', shows: chart },
  { kind: 'cells', shows: cells },
  { kind: 'chain', shows: chain },
  { kind: 'orbit', shows: orbit },
  { kind: 'circle', shows: circle },
  { kind: 'places', shows: places },
];

/** Names of elements in the order in which they open, every one of them closed. */
function elements(svg: string): string[] {
  const open: string[] = [];
  const seen: string[] = [];
  for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-z]+)(?:\s[^<>]*?)?(\/?)>/g)) {
    if (close) expect(open.pop()).toBe(name);
    else {
      seen.push(name!);
      if (!self) open.push(name!);
    }
  }
  expect(open).toEqual([]);
  expect(svg.replace(/<(\/?)([a-z]+)(?:\s[^<>]*?)?(\/?)>/g, '')).not.toMatch(/[<>]/);
  return seen;
}

describe('places in a plane', () => {
  const svg = drawn({ kind: 'places', shows: places });
  const middles = [...svg.matchAll(/<circle class="ink" cx="([\d.]+)" cy="([\d.]+)"/g)].map(([, x, y]) => [+x!, +y!]);

  it('lie to one scale, as they lie, with the way from turn to turn', () => {
    const [one, two, three] = middles as [number[], number[], number[]];
    expect((two[0]! - one[0]!) / 50).toBeCloseTo((three[0]! - two[0]!) / 50, 1);
    expect((two[1]! - three[1]!) / 40).toBeCloseTo((two[0]! - one[0]!) / 50, 1);
    const at = ([x, y]: number[]): string => `${x!.toFixed(1)} ${y!.toFixed(1)}`;
    expect(svg).toContain(`d="M${at(two)} L${at(three)} L${at(one)}"`);
  });

  it('are told in the order of their turns', () => {
    expect(figuresIn({ kind: 'places', shows: places }).rows).toEqual([
      ['1', '2', '50.0', '-20.0'],
      ['2', '3', '100.0', '20.0'],
      ['3', '1', '0.0', '-20.0'],
    ]);
  });
});

describe('a chart of lines', () => {
  it('is one drawing with title and description, every element closed, text escaped', () => {
    const svg = lineChart(chart);
    expect(elements(svg).slice(0, 3)).toEqual(['svg', 'title', 'desc']);
    expect(svg).toContain('<title>gap against &lt;shim&gt; &amp; &quot;more&quot;</title>');
    expect(svg).toContain('place &lt;2&gt;');
    expect(svg).toContain('role="img"');
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('leaves a gap where there is no figure', () => {
    const paths = [...lineChart(chart).matchAll(/ d="([^"]*)"/g)].map(([, d]) => d!);
    expect(paths.map((d) => [d.split('M').length - 1, d.split('L').length - 1])).toEqual([
      [1, 2],
      [1, 2],
    ]);
  });

  it('tells lines apart by their strokes, not by colour alone', () => {
    const lines = Array.from({ length: 8 }, (_, at) => ({ name: `place ${at + 1}`, figures: [at, at, at, at] }));
    const strokes = [...lineChart({ ...chart, lines }).matchAll(/<path [^>]*>/g)].map(
      ([path]) => /stroke-dasharray="([^"]*)"/.exec(path)?.[1] ?? 'whole',
    );
    expect(new Set(strokes).size).toBe(8);
  });

  it('draws nothing wrong where nothing is known', () => {
    const none = { ...chart, lines: [{ name: '', figures: [null, null, null, null] }], limits: null };
    expect(lineChart(none)).not.toMatch(/NaN|Infinity/);
  });

  it('has the same figures as a table', () => {
    expect(tableOf(chart)).toEqual({
      heads: ['shim (mm)', 'place 1 (mm)', 'place <2> (mm)'],
      rows: [
        ['0.00', '1.000', '—'],
        ['1.00', '2.000', '1.500'],
        ['2.00', '3.000', '1.250'],
        ['3.00', '—', '1.000'],
      ],
    });
  });
});

describe('every kind of drawing', () => {
  it.each(everyKind)('$kind: one picture with title and description, colours from the page', (one) => {
    const svg = drawn(one);
    expect(elements(svg).slice(0, 3)).toEqual(['svg', 'title', 'desc']);
    expect(svg).toContain('role="img"');
    expect(svg).not.toMatch(/NaN|Infinity|undefined| style=|#[0-9a-f]{3}|rgb\(/i);
    expect(svg.match(/(?:fill|stroke)="(?!none)/g)).toBeNull();
  });

  it.each(everyKind)('$kind: alone it is a file with colours of its own and no place of a palette left open', (one) => {
    const svg = drawnAlone(one);
    expect(svg).toMatch(/^<svg width="\d+(\.\d+)?" height="\d+(\.\d+)?" /);
    expect(svg).toContain('<style>');
    expect(svg).not.toContain('var(');
  });

  it.each(everyKind)('$kind: stays in its frame', (one) => {
    const svg = drawn(one);
    const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!.map(Number);
    for (const [, name, figure] of svg.matchAll(/ (x1|x2|y1|y2|cx|cy|x|y)="(-?[\d.]+)"/g)) {
      expect(Number(figure), name).toBeGreaterThanOrEqual(0);
      expect(Number(figure), name).toBeLessThanOrEqual(name!.includes('x') ? width! : height!);
    }
  });

  it.each(everyKind)('$kind: has its figures as a table as wide as its heads', (one) => {
    const { heads, rows } = figuresIn(one);
    expect(rows.length).toBeGreaterThan(1);
    for (const row of rows) expect(row).toHaveLength(heads.length);
  });

  it('an editor palette has no colour of its own', () => {
    const left = paletteText(editorPalette).replaceAll(/--[\w-]+/g, '');
    expect(left).toMatch(/^(: (var\(|[ ,]|\)|transparent)+;\s*)+$/);
  });
});

describe('cells against their limits', () => {
  it('tell how each stands by the shape of its mark', () => {
    const shapes = cells.rows.map((row) => {
      const svg = cellsChart({ ...cells, rows: [row] });
      return /<(circle class="solid"|circle class="ink paper"|rect class="ink paper"|path class="risk paper"|path class="bad")/.exec(
        svg,
      )?.[1];
    });
    expect(new Set(shapes.filter((shape) => shape !== undefined)).size).toBe(4);
    expect(cellsTable(cells).rows[0]).toEqual(['place 1', '1.000', '0.020', '0.900', '1.100', 'holds']);
  });
});

describe('a chain', () => {
  it('ends where its lengths end: what is left reaches from the datum to there', () => {
    const ends = [
      ...chainDrawing(chain).matchAll(/<line class="(?:line-1|ink)" stroke-width="2" x1="([\d.]+)" x2="([\d.]+)"/g),
    ];
    const [plate, cut, rest] = ends.map(([, from, to]) => [Number(from), Number(to)] as const);
    expect(cut![0]).toBeCloseTo(plate![1] + 5, 1);
    expect(rest![0]).toBe(plate![0]);
    expect(rest![1] - rest![0]).toBeCloseTo((plate![1] + 5 - plate![0]) * (20.01 / 30) - 5, 0);
  });
});

describe('an orbit', () => {
  it('has one scale both ways: a circle is as wide as it is high', () => {
    const [, d] = /class="line-1" stroke-width="2" d="M([^"]*) Z"/.exec(orbitDrawing(orbit))!;
    const points = d!.split(' L').map((point) => point.split(' ').map(Number));
    const reach = (at: number): number =>
      Math.max(...points.map((point) => point[at]!)) - Math.min(...points.map((point) => point[at]!));
    expect(reach(0)).toBeCloseTo(reach(1), 1);
  });
});

describe('spans of a turn', () => {
  it('go clockwise from above, the long way where they last more than half a turn', () => {
    const arcs = [...circleDrawing(circle).matchAll(/<path d="M[^"]* A[\d.]+ [\d.]+ 0 (\d) (\d) /g)];
    expect(arcs.map(([, long, clockwise]) => [long, clockwise])).toEqual([
      ['1', '1'],
      ['0', '1'],
    ]);
    expect(circleTable(circle).rows[0]).toEqual(['open', '30 deg before the top', '60 deg after the bottom', '270.0']);
  });
});

describe('lines that are unsure', () => {
  it('have a shade round them, names at levels and points', () => {
    const svg = lineChart({
      ...chart,
      lines: [{ name: '', figures: [1, 2, null, 3], unsure: [0.1, 0.1, null, 0.2] }],
      levels: [{ at: 2.5, name: 'shut' }],
      points: [{ at: 0, figure: 1, name: 'least' }],
    });
    expect(svg).toMatch(/<path class="unsure" d="M[^"]* Z M[^"]* Z"/);
    expect(svg).toContain('>shut<');
    expect(svg).toContain('>least<');
    expect(svg).not.toMatch(/NaN/);
  });
});

describe('marks along an axis', () => {
  it('are round and reach over both ends', () => {
    expect(roundMarks(0.0312, 0.0497)).toEqual([0.03, 0.035, 0.04, 0.045, 0.05]);
    for (const [from, to] of [
      [-3, 7],
      [0.001, 0.0011],
      [1e6, 5e6],
      [5, 5],
      [0, 0],
    ] as const) {
      const marks = roundMarks(from, to);
      expect(marks[0]!).toBeLessThanOrEqual(from);
      expect(marks.at(-1)!).toBeGreaterThanOrEqual(to);
      expect(marks.length).toBeGreaterThanOrEqual(2);
      expect(marks.length).toBeLessThanOrEqual(12);
    }
  });
  it('are told with as many decimals as they need', () => {
    expect(decimalsFor([0.03, 0.0325, 0.035])).toBe(4);
    expect(decimalsFor([0, 10, 20])).toBe(0);
  });
});
