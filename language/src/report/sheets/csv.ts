// A sheet as a table for spreadsheets, after RFC 4180: one line a figure and place, the same columns in every line.
// A text that a spreadsheet would take for a formula gets a quotation mark in front; our own numbers stay numbers.
import { stateWords } from '../check-words.ts';
import type { Block, Cell, GridBlock, SheetDocument } from './document.ts';

type Line = ReadonlyMap<string, string>;

/** How each of these tables begins: no table of readings does. */
export const csvStart = 'Build,Part';

/** Several builds below each other, under one line of heads. */
export function sheetsCsv(sheets: readonly SheetDocument[]): string {
  const lines = sheets.flatMap((sheet) =>
    sheet.parts.flatMap((part) =>
      part
        .blocks()
        .flatMap(linesOf)
        .map((line): Line => new Map([['Build', sheet.build], ['Part', part.title], ...line])),
    ),
  );
  const heads = new Set(['Build', 'Part', ...lines.flatMap((line) => [...line.keys()])]);
  const rows = [[...heads], ...lines.map((line) => [...heads].map((head) => line.get(head) ?? ''))];
  return rows.map((row) => `${row.map(field).join(',')}\r\n`).join('');
}

function linesOf(block: Block): Line[] {
  switch (block.is) {
    case 'findings':
      return block.findings.map(
        ({ state, severity, headline, lines }) =>
          new Map([
            ['State', stateWords[state as keyof typeof stateWords] ?? state],
            ['Severity', severity],
            ['Text', headline],
            ...lines.map(({ label, text }) => [label, text] as const),
          ]),
      );
    case 'table':
      return block.rows.map(
        ({ cells, under }) =>
          new Map([
            ['Table', block.caption],
            ...block.heads.map((head, at) => [head, cellText(cells[at] ?? '')] as const),
            ...(under === undefined || under === '' ? [] : [['Notes', under] as const]),
          ]),
      );
    case 'grid':
      return gridLines(block);
    case 'steps':
      return block.steps.flatMap(({ title, text, grid }, at) => {
        const step = [['Step', String(at + 1)] as const, ['Text', title] as const];
        return [
          new Map([...step, ['Notes', text]]),
          ...(grid ? gridLines(grid) : []).map((line) => new Map([...step, ...line])),
        ];
      });
    case 'tasks':
      return block.list.tasks.map(
        ({ task, done, said }) =>
          new Map([
            ['Text', [block.list.title, task].filter((one) => one !== '').join(', ')],
            ['State', done ? 'done' : 'to do'],
            ['Notes', said],
          ]),
      );
    case 'list':
      return block.lines.map((line) => new Map([['Text', line]]));
    case 'text':
    case 'blanks':
    case 'drawing':
      return [];
  }
}

function gridLines({ groups }: GridBlock): Line[] {
  return groups.flatMap(({ by, heads, rows }) => {
    let name = '';
    return rows.flatMap((row) => {
      name = row.name || name;
      return row.cells.flatMap(({ figure, marked }, at): Line[] => {
        if (figure?.number === '') return [];
        return [
          new Map([
            ['Figure', name],
            ['Path', row.address],
            ['At', [row.where, by === '' ? '' : `${by} ${heads[at]}`].filter((one) => one !== '').join(', ')],
            ['View', by === '' ? heads[at]! : ''],
            ['Value', figure?.number ?? ''],
            ['Unit', figure?.unit ?? row.unit],
            ['Plus or minus', figure?.plusMinus ?? ''],
            ['Limits', row.limits],
            ['State', marked ? 'out of limits or at risk' : ''],
            ['Notes', row.notes],
          ]),
        ];
      });
    });
  });
}

function cellText(cell: Cell): string {
  if (typeof cell === 'string') return cell;
  return 'text' in cell ? cell.text : '';
}

const ownNumber = /^[-+]?\d+(\.\d+)?$/;

function field(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) && !ownNumber.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
