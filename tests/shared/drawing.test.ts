// Charts as SVG and as tables: what is drawn is what is in the table, and nothing out of a file becomes markup.
import { describe, expect, it } from 'vitest';
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
