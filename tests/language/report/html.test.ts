// The sheet as a page and the drawings of a build: well-formed, self-contained, and with the figures of the sheet and no others.
import { describe, expect, it } from 'vitest';
import { readLibrary } from '../../../language/src/command-line/library.ts';
import { sheetPage } from '../../../language/src/report/html/page.ts';
import { sheetBody, sheetKinds } from '../../../language/src/report/html/sheet.ts';
import { pathsOf } from '../../../language/src/report/drawings/plan.ts';
import { chaptersOf } from '../../../language/src/report/sections.ts';
import { sheetModel } from '../../../language/src/report/sheet.ts';
import { sheetText } from '../../../language/src/report/text.ts';
import { samples, workspaceOf } from '../services/open.ts';
import { library } from '../../reference/library.ts';
import { files, outcome } from './rig.ts';

const workspace = workspaceOf(samples);
const options = {
  files: workspace.files,
  chapters: chaptersOf(library.files),
  cautions: readLibrary().cautions,
  drawings: readLibrary().drawings,
  edition: 1,
  mistakes: 0,
};
const built = ['fell-427', 'skarn-998'].map((name) => workspace.result(`file:///${name}.thou`).outcomes[0]!);
const models = built.map((one) => sheetModel(one, options));

/** Every element closed in its order. */
function balanced(html: string): boolean {
  const open: string[] = [];
  for (const [, close, name, self] of html.matchAll(/<(\/?)([a-z][a-z0-9]*)(?:\s[^<>]*?)?(\/?)>/g)) {
    if (close ? open.pop() !== name : !self && !/^(meta)$/.test(name!) && open.push(name!) < 0) return false;
  }
  return open.length === 0;
}

describe('the sheet as a page', () => {
  it.each(sheetKinds)('%s: is well-formed, needs nothing else, one head for each', (kind) => {
    for (const model of models) {
      const page = sheetPage(model.build, [sheetBody(model, kind)]);
      expect(balanced(page.replace(/<!doctype html>|<style>[^]*?<\/style>/g, ''))).toBe(true);
      expect(page.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(
        /https?:|<script|<link|src=| style="|url\(/,
      );
      expect(page.match(/<h1/g)).toHaveLength(1);
      expect(page).not.toMatch(/NaN|undefined|\[object/);
    }
  });

  it('has every figure of the text', () => {
    for (const model of models) {
      const body = sheetBody(model, 'whole').replaceAll('&#39;', "'");
      for (const { singles, rows } of model.sections) {
        for (const one of singles) expect(body).toContain(`data-path="${one.address}"`);
        for (const row of rows)
          for (const [at, figure] of row.lines[0]!.figures.entries()) {
            expect(body).toContain(`data-cell="${row.addresses[at]}"`);
            expect(body).toContain(figure.number.replaceAll('<', '&lt;'));
          }
      }
      expect(sheetText(model).split('\n').length).toBeGreaterThan(50);
    }
  });

  it('lets nothing out of a file become markup', () => {
    const model = sheetModel(outcome, {
      files,
      chapters: [],
      cautions: ['<script>x</script>'],
      edition: 1,
      mistakes: 0,
    });
    const hostile = { ...model, build: '<img src=x onerror=1>', doc: '"><b>', history: ['</ul><b>'] };
    for (const kind of sheetKinds) expect(sheetBody(hostile, kind)).not.toMatch(/<(img|script|b)[ >]/);
  });

  it('has tables with heads, a caption, and names of rows', () => {
    const body = sheetBody(models[0]!, 'whole');
    const tables = [...body.matchAll(/<table[^]*?<\/table>/g)].map(([table]) => table);
    expect(tables.length).toBeGreaterThan(20);
    for (const table of tables) {
      expect(table).toMatch(/<caption>[^<]+<\/caption>/);
      expect(table).toMatch(/<th scope="col"/);
      expect(table).toMatch(/<th scope="row"/);
    }
  });

  it('the bench sheet has a blank for every place that is to be read', () => {
    const [model] = models;
    const places = model!.toMeasure.reduce((count, { places: all }) => count + all.length, 0);
    expect(places).toBeGreaterThan(40);
    expect(sheetBody(model!, 'bench').match(/<span class="blank">/g)).toHaveLength(places + 4);
  });
});

describe('drawings', () => {
  it('are declared by figures that the trade library has', () => {
    const known = new Set(built[0]!.slots.map(({ slot }) => slot.path));
    for (const plan of readLibrary().drawings)
      for (const path of pathsOf(plan)) expect(known.has(path), `${plan.name}: ${path}`).toBe(true);
  });

  it('have names of their own', () => {
    const names = readLibrary().drawings.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
  });

  it('draw the figures of the sheet: each bar stands at its own figure', () => {
    for (const model of models)
      for (const { drawing, address } of model.drawings) {
        if (drawing.kind !== 'cells') continue;
        const row = model.sections.flatMap(({ rows }) => rows).find((one) => one.address === address && one.at === '');
        if (!row) continue;
        const drawnFigures = drawing.shows.rows.map(({ figure }) => figure);
        row.lines[0]!.figures.forEach(({ number }, at) => {
          const told = Number(number);
          if (Number.isFinite(told) && row.heads.length === drawnFigures.length)
            expect(drawnFigures[at]!).toBeCloseTo(told, 3);
        });
      }
  });

  it('a chain adds up to what it says is left', () => {
    const chains = models
      .flatMap(({ drawings }) => drawings.map(({ drawing }) => drawing))
      .filter(({ kind }) => kind === 'chain');
    expect(chains.length).toBeGreaterThan(0);
    for (const chain of chains) {
      if (chain.kind !== 'chain') continue;
      const { links, rest } = chain.shows;
      expect(links.reduce((sum, { length }) => sum + length, 0)).toBeCloseTo(rest.length, 9);
    }
  });
});
