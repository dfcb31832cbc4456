/** Reads comma- or semicolon-separated text: UTF-8, an optional byte-order mark, quotes, CRLF. Knows no axis and no unit. */
import { caps } from '@thou/shared/limits';

export interface CsvCell {
  readonly text: string;
  /** Line in the file, from 1. */
  readonly line: number;
}

export interface Csv {
  readonly header: readonly string[];
  readonly rows: readonly (readonly CsvCell[])[];
  /** Fields are parted by semicolons, so a comma may be the decimal sign. */
  readonly decimalComma: boolean;
}

/** Blank lines are skipped. A file without a heading line, or one too large, is a problem in words. */
export function parseCsv(text: string): Csv | { readonly problem: string } {
  if (text.includes('\0')) return { problem: 'it is not a text' };
  const body = text.startsWith('\uFEFF') ? text.slice(1) : text;
  const semicolon = (body.split(/\r?\n/, 1)[0] ?? '').includes(';');
  const rows = fields(body, semicolon ? ';' : ',');
  if (rows === null) return { problem: `it has more than ${caps.csvCells} cells` };
  const filled = rows.filter((row) => row.some((cell) => cell.text.trim() !== ''));
  const [header, ...rest] = filled;
  if (!header) return { problem: 'it has no heading line' };
  return { header: header.map((cell) => cell.text), rows: rest, decimalComma: semicolon };
}

function fields(text: string, separator: string): CsvCell[][] | null {
  const rows: CsvCell[][] = [];
  let row: CsvCell[] = [];
  let field = '';
  let quoted = false;
  let line = 1;
  let startLine = 1;
  let cells = 0;
  const endField = (): void => {
    row.push({ text: field, line: startLine });
    field = '';
    cells++;
  };
  for (let i = 0; i < text.length; i++) {
    const sign = text[i]!;
    if (quoted) {
      if (sign === '"' && text[i + 1] === '"') {
        field += '"';
        i++;
      } else if (sign === '"') quoted = false;
      else {
        if (sign === '\n') line++;
        field += sign;
      }
    } else if (sign === '"' && field === '') quoted = true;
    else if (sign === separator) endField();
    else if (sign === '\n') {
      if (field.endsWith('\r')) field = field.slice(0, -1);
      endField();
      rows.push(row);
      row = [];
      startLine = ++line;
    } else field += sign;
    if (cells > caps.csvCells) return null;
  }
  if (field !== '' || row.length > 0) {
    endField();
    rows.push(row);
  }
  return rows;
}
