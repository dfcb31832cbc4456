// The sheets to choose: what stands on each follows from the build, in Markdown and as a table for spreadsheets as well.
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { readLibrary } from '../../../language/src/command-line/library.ts';
import { filesOf } from '../../../language/src/report/place.ts';
import { sheetDocument } from '../../../language/src/report/sheets/compose.ts';
import { sheetsCsv } from '../../../language/src/report/sheets/csv.ts';
import type { SheetDocument, TableBlock } from '../../../language/src/report/sheets/document.ts';
import { sheetMarkdown } from '../../../language/src/report/sheets/markdown.ts';
import { pathsOnSheet } from '../../../language/src/report/sheets/plan.ts';
import { run } from '../../reference/run.ts';

const { sheets, chapters, cautions } = readLibrary();
const files = filesOf(
  () => undefined,
  (uri) => uri,
);

const text = `use prelude 1
part HB-60: Rod { maker: "Holt & Fenner", number: "HB-60", length: 6.000 in }
build wren {
  layout: inline-4
  block { bore: 3.500 in, deck-height: 9.000 in, main-housing: 2.6406..2.6415 in }
  crank.stroke: 3.000 in
  rod: HB-60
  piston.compression-height: 1.500 in
  head.chamber: 40 cc
  order[honing] { maker: "Sill Lane Grinding", plate: "TP-4", state: ordered, datum: "main line", read-by-whom: "both" }
  measured "As it came" on 2026-02-02 {
    block.deck-height: [1: [front: 9.0012, rear: 9.0018]] in
    block.main-housing: [2.6401, 2.6410, 2.6420, 2.6410, 2.6411] in
  }
  machining "Order 1" on 2026-02-20 {
    block.deck-height: 8.995 in +0.001/-0
    block.bore: 3.5100..3.5105 in
  }
  measured "Back" on 2026-03-01 { block.bore: [3.5102, 3.5103, 3.5102, 3.5107] in }
}
`;
const { builds, slips } = run(text);
const { outcome } = builds[0]!;

function sheet(name: string): SheetDocument {
  const plan = sheets.find((one) => one.name === name)!;
  return sheetDocument(outcome, plan, { files, chapters, cautions, drawings: [], edition: 1, mistakes: 0 });
}

function tablesOf({ parts }: SheetDocument, title: string): TableBlock[] {
  const part = parts.find((one) => one.title === title);
  return (part?.blocks() ?? []).filter((block) => block.is === 'table');
}

function rowsOf({ rows }: TableBlock): string[][] {
  return rows.map(({ cells }) =>
    cells.map((cell) => (typeof cell === 'string' ? cell : 'text' in cell ? cell.text : '____')),
  );
}

describe('sheets', () => {
  it('are declared by figures that the trade library has', () => {
    expect(slips).toEqual([]);
    const known = outcome.binding.schema.slotAt;
    for (const plan of sheets)
      for (const path of pathsOnSheet(plan)) expect(known.has(path), `${plan.name}: ${path}`).toBe(true);
  });

  it('order of cuts: what is ordered, what came back, what is past its size', () => {
    const [ordered, outOfSize] = tablesOf(sheet('machine-shop'), 'What is to be cut');
    expect(ordered!.caption).toBe('Order 1, 2026-02-20');
    // to be cut: 9.0012 − 8.995, 9.0018 − 8.995; bores from 3.500 to the middle of 3.5100 and 3.5105
    expect(rowsOf(ordered!)).toEqual([
      ['Block bore, cylinder 1 and 3', '3.500 in', '3.5103 in', '3.5100..3.5105 in', '0.0103 in', '3.5102 in', '____'],
      ['Block bore, cylinder 2', '3.500 in', '3.5103 in', '3.5100..3.5105 in', '0.0103 in', '3.5103 in', '____'],
      ['Block bore, cylinder 4', '3.500 in', '3.5103 in', '3.5100..3.5105 in', '0.0103 in', '3.5107 in', '____'],
      ['Block deck height, front', '9.0012 in', '8.9950 in', '8.9950..8.9960 in', '0.0062 in', '____', '____'],
      ['Block deck height, rear', '9.0018 in', '8.9950 in', '8.9950..8.9960 in', '0.0068 in', '____', '____'],
    ]);
    expect(outOfSize!.caption).toBe('Out of size as it was read');
    const told = outOfSize!.rows.map(({ cells: [name], under }) => [(name as { text: string }).text, under]);
    expect(told.find(([name]) => name === 'Block main housing, main 3')![1]).toMatch(
      /past its greatest already: no cut mends it/,
    );
    expect(told.find(([name]) => name === 'Block bore, cylinder 4')![1]).toMatch(
      /past its greatest already: no cut mends it/,
    );
    const small = rowsOf(outOfSize!).find(([name]) => name === 'Block main housing, main 1')!;
    // 2.6401 in grows by a cut: 2.64105 in, the middle, is 0.00095 in away
    expect(small.slice(1)).toEqual(['2.6401 in', '2.6411 in', '2.6406..2.6415 in', '0.0010 in', '____', '____']);
  });

  it('order of cuts: an order on record says how it is held, else what holds for every cut', () => {
    const [{ rows }] = tablesOf(sheet('machine-shop'), 'What is to be cut') as [TableBlock];
    expect(rows[2]!.under).toMatch(
      /^Came back\. Honing: maker Sill Lane Grinding, datum main line, plate TP-4,.* read by whom both\.$/,
    );
    expect(rows[4]!.under).toMatch(/^Datum: axis of the mains\./);
    expect(rows[3]!.under).toBe('');
  });

  it('order list: parts that somebody named, with what is known of them', () => {
    const [parts] = tablesOf(sheet('orders'), 'Parts that are named');
    expect(rowsOf(parts!)).toEqual([
      ['Rod, each cylinder', 'HB-60', '4', 'Holt & Fenner', 'HB-60', '____', '____', '____'],
    ]);
  });

  it('assembly: steps in order, those of parts that are there, with blanks to fill in', () => {
    const steps = sheet('assembly')
      .parts.flatMap((part) => part.blocks())
      .flatMap((block) => (block.is === 'steps' ? block.steps : []));
    const titles = steps.map(({ title }) => title);
    expect(titles[0]).toBe('Block and galleries');
    expect(titles).toContain('Pins, rods and pistons');
    expect(titles).not.toContain('Shells and caps of the mains');
    const deck = steps.find(({ title }) => title === 'Deck, gasket and heads')!;
    const blank = deck.grid!.groups.flatMap(({ rows }) => rows).find(({ where }) => where === 'as checked')!;
    expect(blank.cells.map(({ figure }) => figure)).toEqual([null, null, null, null]);
  });
});

describe('a sheet as a table for spreadsheets', () => {
  it.each(sheets.map(({ name }) => name))(
    '%s: is read back by another program, every line as wide as the first',
    (name) => {
      const csv = sheetsCsv([sheet(name), sheet(name)]);
      expect(csv.split('\r\n').length).toBe(csv.split('\n').length);
      const [heads, ...rows] = parse(csv) as string[][];
      expect(heads!.slice(0, 2)).toEqual(['Build', 'Part']);
      expect(rows.length).toBeGreaterThan(5);
      expect(new Set(rows.map((row) => row.length))).toEqual(new Set([heads!.length]));
    },
  );

  it('has every cell of every figure, numbers as numbers', () => {
    const records = parse(sheetsCsv([sheet('whole')]), { columns: true }) as Record<string, string>[];
    const bores = records.filter(({ Path, View }) => Path === 'block.bore' && View === '');
    expect(bores.map(({ At, Value, Unit }) => [At, Value, Unit])).toEqual(
      ['3.5102', '3.5103', '3.5102', '3.5107'].map((value, at) => [`cylinder ${at + 1}`, value, 'in']),
    );
  });

  it('gives no formula to a spreadsheet, quotes what needs it, and leaves numbers alone', () => {
    const cells = ['=1+2', '+cmd', '-x', '@sum', '\tx', '-0.5', '+1.25', 'a "b", c\nd', 'plain'];
    const block: TableBlock = { is: 'table', caption: '=x', heads: cells.map((_, at) => `H${at}`), rows: [{ cells }] };
    const hostile: SheetDocument = {
      ...sheet('orders'),
      parts: [{ id: 'x', title: '', about: '', counted: '', folded: false, blocks: () => [block] }],
    };
    const [, row] = parse(sheetsCsv([hostile])) as string[][];
    expect(row!.slice(2)).toEqual([
      "'=x",
      "'=1+2",
      "'+cmd",
      "'-x",
      "'@sum",
      "'\tx",
      '-0.5',
      '+1.25',
      'a "b", c\nd',
      'plain',
    ]);
  });
});

describe('a sheet as Markdown', () => {
  it.each(sheets.map(({ name }) => name))('%s: one title, tables whose lines are all as wide', (name) => {
    const markdown = sheetMarkdown(sheet(name));
    expect(markdown.match(/^# /gm)).toHaveLength(1);
    for (const table of markdown.matchAll(/(?:^\|.*\n)+/gm)) {
      const widths = table[0]
        .trimEnd()
        .split('\n')
        .map((line) => line.replaceAll('\\|', '').split('|').length);
      expect(new Set(widths).size).toBe(1);
    }
  });

  it('lets nothing out of a file become markup', () => {
    const hostile: SheetDocument = {
      ...sheet('orders'),
      title: '# <b> | [x](javascript:1) `y` *z*',
      parts: [],
    };
    expect(sheetMarkdown(hostile)).toMatch(/^# \\# \\<b\\> \\\| \\\[x\\\]\(javascript:1\) \\`y\\` \\\*z\\\*\n/);
  });
});

describe('what parts cost', () => {
  const priced = (shelf: string): string[][] => {
    const [first] = run(`use prelude 1
unit EUR: Money
unit USD: Money
${shelf}
build wren { layout: inline-4, rod: HB-60, piston: FT-1, head: LG-2 }
`).builds;
    const plan = sheets.find(({ name }) => name === 'orders')!;
    const how = { files, chapters, cautions, drawings: [], edition: 1, mistakes: 0 };
    const [, totals] = tablesOf(sheetDocument(first!.outcome, plan, how), 'Parts that are named');
    return totals ? rowsOf(totals) : [];
  };

  // sums by hand
  it('is added up by how many there are, each currency by itself; what has no price is named', () => {
    const rows = priced(
      'part HB-60: Rod { price: 95.5 EUR }\npart FT-1: Piston { price: 120 USD }\npart LG-2: Head { maker: "Ledgate" }',
    );
    expect(rows).toEqual([
      ['EUR', '382.00', '4'],
      ['USD', '480.00', '4'],
      ['No price: LG-2', '', '1'],
    ]);
    const all = priced(
      'part HB-60: Rod { price: 95.5 EUR }\npart FT-1: Piston { price: 0.25 EUR }\npart LG-2: Head { price: 1000 EUR }',
    );
    expect(all).toEqual([['EUR', '1383.00', '9']]);
  });

  it('is not told where nobody named a price', () => {
    expect(priced('part HB-60: Rod\npart FT-1: Piston\npart LG-2: Head { maker: "Ledgate" }')).toEqual([]);
  });
});
