// What a clipboard holds, as rows of cells: parted by lines and tabs, as a spreadsheet hands them over. Knows no figure.

export type Grid = readonly (readonly string[])[];

/** Null for what is no block of cells: one cell, or running text. */
export function gridOf(text: string): Grid | null {
  const lines = text.replace(/\r\n?/g, '\n').replace(/\n+$/, '').split('\n');
  const parted = lines.some((line) => line.includes('\t'))
    ? '\t'
    : lines.some((line) => line.includes(';'))
      ? ';'
      : null;
  const rows = lines.map((line) => (parted === null ? [line] : line.split(parted)).map(bare));
  const width = Math.max(...rows.map(({ length }) => length));
  if (rows.length * width < 2 || rows.length * width > mostCells) return null;
  return rows.map((row) => [...row, ...Array<string>(width - row.length).fill('')]);
}

const mostCells = 10_000;

/** Without the quotes that are put round cells with odd signs. */
function bare(cell: string): string {
  const trimmed = cell.trim();
  return /^".*"$/s.test(trimmed) ? trimmed.slice(1, -1).replaceAll('""', '"').trim() : trimmed;
}

export function transposed(grid: Grid): Grid {
  return grid[0]!.map((_, column) => grid.map((row) => row[column]!));
}

/** Without its first row, its first column, or both. */
export function inner(grid: Grid, { row, column }: { readonly row: boolean; readonly column: boolean }): Grid {
  return grid.slice(row ? 1 : 0).map((cells) => cells.slice(column ? 1 : 0));
}
