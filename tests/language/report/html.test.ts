// The sheet as a page and the drawings of a build: well-formed, self-contained, and with the figures of the sheet and no others.
import { describe, expect, it } from 'vitest';
import { readLibrary } from '../../../language/src/command-line/library.ts';
import { sheetPage } from '../../../language/src/report/html/page.ts';
import { sheetBody } from '../../../language/src/report/html/sheet.ts';
import { drawingsOf } from '../../../language/src/report/drawings/drawings.ts';
import { pathsOf } from '../../../language/src/report/drawings/plan.ts';
import { chaptersOf } from '../../../language/src/report/sections.ts';
import { readingsOf, sheetModel } from '../../../language/src/report/sheet.ts';
import { sheetDocument } from '../../../language/src/report/sheets/compose.ts';
import type { SheetDocument } from '../../../language/src/report/sheets/document.ts';
import type { Outcome } from '../../../language/src/semantics/plan/outcome.ts';
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
const { sheets } = readLibrary();
const kinds = sheets.map(({ name }) => name);
const planOf = (kind: string) => sheets.find(({ name }) => name === kind)!;
const bodyOf = (one: Outcome, kind: string): string => sheetBody(sheetDocument(one, planOf(kind), options));

/** Every element closed in its order. */
function balanced(html: string): boolean {
  const open: string[] = [];
  for (const [, close, name, self] of html.matchAll(/<(\/?)([a-z][a-z0-9]*)(?:\s[^<>]*?)?(\/?)>/g)) {
    if (close ? open.pop() !== name : !self && !/^(meta)$/.test(name!) && open.push(name!) < 0) return false;
  }
  return open.length === 0;
}

describe('the sheet as a page', () => {
  it.each(kinds)('%s: is well-formed, needs nothing else, one head for each', (kind) => {
    for (const one of built) {
      const page = sheetPage(`a "title" of </style>${one.binding.name}`, [bodyOf(one, kind)]);
      expect(balanced(page.replace(/<!doctype html>|<style>[^]*?<\/style>/g, ''))).toBe(true);
      expect(page.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(
        /https?:|<script|<link|src=| style="|url\(/,
      );
      expect(page.match(/<h1/g)).toHaveLength(1);
      expect(page.match(/<\/style>/g)).toHaveLength(1);
      expect(page).not.toMatch(/NaN|undefined|\[object/);
    }
  });

  it('standing alone, has one step of every figure that is worked out folded under it, the same in every browser without a script', () => {
    for (const one of built) {
      const page = sheetPage('', [sheetBody(sheetDocument(one, planOf('whole'), { ...options, apart: true }))]);
      const steps = [...page.matchAll(/<details class="apart"><summary>([^<]*)<\/summary>([^]*?)<\/details>/g)];
      expect(steps.length).toBeGreaterThan(20);
      const swept = steps.find(([, name]) => name!.startsWith('Swept volume'))![2];
      expect(swept).toMatch(/Made of<ul><li>block\.bore\[1\] = [^]*Used by<ul>[^]*<li>compression/);
      expect(balanced(page.replace(/<!doctype html>|<style>[^]*?<\/style>/g, ''))).toBe(true);
      expect(page).not.toMatch(/<script|NaN|undefined/);
    }
    expect(bodyOf(built[0]!, 'whole')).not.toContain('details class="apart"');
  });

  it('has every figure of the text', () => {
    for (const one of built) {
      const body = bodyOf(one, 'whole').replaceAll('&#39;', "'");
      const model = sheetModel(one, options);
      for (const { singles, rows } of model.sections) {
        for (const { address } of singles) expect(body).toContain(`data-path="${address}"`);
        for (const row of rows)
          for (const [at, figure] of row.lines[0]!.figures.entries()) {
            expect(body).toContain(`data-cell="${row.addresses[at]}"`);
            expect(body).toContain(figure.number.replaceAll('<', '&lt;'));
          }
      }
      expect(sheetText(model).split('\n').length).toBeGreaterThan(50);
    }
  });

  it('is one table a chapter, folded, with what does not hold before all', () => {
    const body = bodyOf(built[0]!, 'whole');
    const parts = [...body.matchAll(/<section data-part="([^"]+)"[^>]*>([^]*?)<\/section>/g)];
    const chapters = parts.filter(([, id]) => id!.startsWith('chapter-'));
    expect(chapters.length).toBeGreaterThan(10);
    for (const [, id, inside] of chapters) {
      expect(inside!.match(/<table class="grid">/g)?.length ?? 0, id).toBeLessThanOrEqual(1);
      expect(inside, id).toMatch(/^<details class="fold"><summary>/);
    }
    expect(parts[0]![1]).toBe('findings-0');
    expect(parts[0]![2]).not.toContain('<details class="fold"');
  });

  it('lets nothing out of a file become markup', () => {
    const document = sheetDocument(outcome, planOf('whole'), {
      ...options,
      files,
      chapters: [],
      cautions: ['<script>x</script>'],
    });
    const hostile: SheetDocument = {
      ...document,
      build: '<img src=x onerror=1>',
      title: '"><b>',
      head: [{ is: 'text', look: 'plain', text: '</ul><b>' }],
    };
    expect(sheetBody(hostile)).not.toMatch(/<(img|script|b)[ >]/);
  });

  it.each(kinds)('%s: tables have heads, a caption, and names of rows', (kind) => {
    const tables = [...bodyOf(built[0]!, kind).matchAll(/<table[^]*?<\/table>/g)].map(([table]) => table);
    expect(tables.length).toBeGreaterThan(0);
    for (const table of tables) {
      expect(table).toMatch(/<caption>(<span class="told">)?[^<]+/);
      expect(table).toMatch(/<th scope="col"/);
      expect(table).toMatch(/<th scope="row"/);
    }
  });

  it('every row of a table has as many columns as its head', () => {
    for (const kind of kinds)
      for (const [table] of bodyOf(built[1]!, kind).matchAll(/<table class="grid">[^]*?<\/table>/g)) {
        const widths = [...table.matchAll(/<tr[^]*?<\/tr>/g)].map(([row]) =>
          [...row.matchAll(/<t[hd]([^>]*)>/g)].reduce(
            (sum, [, attributes]) => sum + Number(/colspan="(\d+)"/.exec(attributes!)?.[1] ?? 1),
            0,
          ),
        );
        expect(new Set(widths).size, table.slice(0, 200)).toBe(1);
      }
  });

  it('the bench sheet has a blank for every place that is to be read', () => {
    const [one] = built;
    const places = readingsOf(one!, options).reduce((count, { cells }) => count + cells.length, 0);
    expect(places).toBeGreaterThan(40);
    expect(bodyOf(one!, 'bench').match(/<td class="[^"]*blank"/g)).toHaveLength(places);
  });
});

describe('drawings', () => {
  it('are told of in a title, a description and a table', () => {
    for (const one of built) {
      const figures = [...bodyOf(one, 'whole').matchAll(/<figure[^]*?<\/figure>/g)].map(([figure]) => figure);
      expect(figures.length).toBeGreaterThan(3);
      for (const figure of figures) {
        expect(figure).toMatch(/<svg[^>]*role="img"/);
        expect(figure).toMatch(/<title[^>]*>[^<]+<\/title>/);
        expect(figure).toMatch(/<desc[^>]*>[^<]+<\/desc>/);
        expect(figure).toMatch(/<table[^]*<td/);
      }
    }
  });

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
    for (const one of built) {
      const model = sheetModel(one, options);
      for (const { drawing, address } of drawingsOf(one, options.drawings)) {
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
    }
  });

  it('are linked from every figure that they show, and lead back to each of them', () => {
    for (const one of built) {
      const body = bodyOf(one, 'whole');
      const ids = [...body.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id!);
      expect(new Set(ids).size).toBe(ids.length);
      const ways = [...body.matchAll(/<a href="#([^"]+)" class="figure" data-in="([^"]+)"/g)];
      expect(ways.length).toBeGreaterThan(10);
      for (const [, anchor, part] of ways) {
        expect(ids).toContain(anchor);
        const inside = body.slice(body.indexOf(`data-part="${part}"`), body.indexOf(` id="${anchor}"`));
        expect(inside, anchor).not.toContain('<section');
      }
      const linked = new Set(ways.map(([, anchor]) => anchor));
      for (const id of ids) if (id.startsWith('row-')) expect(linked, id).toContain(id);
      expect(linked).toContain(ids.find((id) => id.startsWith('drawing-stack-up-')));
    }
  });

  it('the order of a joint is drawn on the assembly sheet, in the step that tightens it', () => {
    const season = workspace.result('file:///tarn-season.thou').outcomes[0]!;
    const body = bodyOf(season, 'assembly');
    const [, step] = /<li class="step"><h3>Shells and caps of the mains<\/h3>([^]*?)<li class="step">/.exec(body)!;
    expect(step).toContain('data-drawing="main-joint-order"');
    // by hand, from the middle outwards: the middle main, those beside it, the ends; of those alike the one named first
    expect(step).toMatch(/In turn: 5, 6, (3, 4, 7, 8|7, 8, 3, 4), /);
    expect(step).toMatch(/<table class="plain"><caption>[^]*?<td>5<\/td>/);
    expect(bodyOf(built[0]!, 'assembly')).not.toContain('main-joint-order');
  });

  it('of the heads by their maker, where he says it', () => {
    const body = bodyOf(built[1]!, 'assembly');
    const [, step] = /<li class="step"><h3>Deck, gasket and heads<\/h3>([^]*?)<li class="step">/.exec(body)!;
    expect(step).toContain('data-drawing="head-joint-order"');
    // the list of the part, read backwards: stud 3 first, stud 8 second
    expect(step).toMatch(/In turn: 3, 8, 4, 7, 2, 9, 5, 6, 1, 10\b/);
    expect(body.match(/data-drawing="head-joint-order"/g)).toHaveLength(1);
  });

  it('a chain adds up to what it says is left', () => {
    const chains = built
      .flatMap((one) => drawingsOf(one, options.drawings).map(({ drawing }) => drawing))
      .filter(({ kind }) => kind === 'chain');
    expect(chains.length).toBeGreaterThan(0);
    for (const chain of chains) {
      if (chain.kind !== 'chain') continue;
      const { links, rest } = chain.shows;
      expect(links.reduce((sum, { length }) => sum + length, 0)).toBeCloseTo(rest.length, 9);
    }
  });
});
