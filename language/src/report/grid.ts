// Figures along an axis in columns, one figure below the other while their places are the same. Decides no content.
import type { SheetFigure, SheetRow } from '@thou/shared/result/sheet';
import { bareText } from './figures.ts';
import type { Style } from './style.ts';
import { aligned, pageWidth, paragraph, widthOf } from './table.ts';

const labelWidth = 26;
const unitWidth = 5;
const startWidth = labelWidth + 1 + unitWidth;
const leastColumn = 6;
const gap = '—';

interface Line {
  readonly label: string;
  readonly unit: string;
  readonly cells: readonly string[];
}

/** One figure with its lines, and how wide its columns need to be. */
interface Block {
  readonly row: SheetRow;
  readonly lines: readonly Line[];
  readonly width: number;
}

/** `atTop`: nothing of the section stands above. */
export function gridLines(rows: readonly SheetRow[], atTop: boolean, style: Style): string[] {
  const blocks = rows.map((row, at): Block => {
    const block = blockOf(row, rows[at - 1]);
    return isTooWide(block) ? blockOf(withoutGaps(row), rows[at - 1]) : block;
  });
  return groups(blocks).flatMap((group, at) => [...(atTop && at === 0 ? [] : ['']), ...groupLines(group, style)]);
}

function blockOf(row: SheetRow, above: SheetRow | undefined): Block {
  const lines = pointsAligned(linesOf(row, above));
  const texts = [...row.heads, ...lines.flatMap(({ cells }) => cells)];
  return { row, lines, width: Math.max(leastColumn, ...texts.map(widthOf)) + 1 };
}

/** Of a row that is mostly gaps the places that have a figure; how many have none stands in its note. */
function withoutGaps(row: SheetRow): SheetRow {
  const kept = row.heads.flatMap((_, place) =>
    row.lines.some(({ figures }) => figures[place]!.number !== gap) ? [place] : [],
  );
  if (kept.length === 0 || 2 * kept.length > row.heads.length) return row;
  const of = <T>(all: readonly T[]): readonly T[] => kept.map((place) => all[place]!);
  return {
    ...row,
    heads: of(row.heads),
    addresses: of(row.addresses),
    marked: of(row.marked),
    lines: row.lines.map(({ label, figures }) => ({ label, figures: of(figures) })),
    second: row.second && { ...row.second, numbers: of(row.second.numbers) },
  };
}

/** Neighbours along the same places; a figure too wide for the page stands alone and is broken over several rows. */
function groups(blocks: readonly Block[]): Block[][] {
  const found: Block[][] = [];
  for (const block of blocks) {
    const [first] = found[found.length - 1] ?? [];
    const same = first && first.row.axis === block.row.axis && first.row.heads.join() === block.row.heads.join();
    if (same && !isTooWide(block) && !isTooWide(first)) found[found.length - 1]!.push(block);
    else found.push([block]);
  }
  return found;
}

function isTooWide({ row, width }: Block): boolean {
  return startWidth + row.heads.length * width > pageWidth;
}

function groupLines(group: readonly Block[], style: Style): string[] {
  const width = Math.max(...group.map((block) => block.width));
  const { heads, axis } = group[0]!.row;
  const columns = Math.max(1, Math.min(heads.length, Math.floor((pageWidth - startWidth) / width)));
  const lines: string[] = [];
  for (let from = 0; from < heads.length; from += columns) {
    const shown = <T>(all: readonly T[]): readonly T[] => all.slice(from, from + columns);
    lines.push(
      style.faint(
        axis.padStart(startWidth) +
          shown(heads)
            .map((text) => right(text, width))
            .join(''),
      ),
    );
    const last = from + columns >= heads.length;
    for (const block of group) {
      lines.push(...block.lines.flatMap((line) => written({ ...line, cells: shown(line.cells) }, width)));
      if (last) lines.push(...under(notes(block.row), style));
    }
  }
  return lines;
}

/** The value, the same in the second unit, then the views that vary. */
function linesOf(row: SheetRow, above: SheetRow | undefined): Line[] {
  const name = above?.address === row.address && row.at !== '' ? '' : row.name;
  const first = [name, row.at].filter((part) => part !== '').join(', ');
  const [value, ...views] = row.lines.map(({ label, figures }, at): Line => ({
    label: at === 0 ? [first, label].filter((part) => part !== '').join(', ') : `  ${label}`,
    unit: row.unit,
    cells: figures.map(
      (figure, place) => (at === 0 && row.marked[place] === true ? '!' : '') + cellText(figure, row.unit),
    ),
  }));
  const second: Line[] = row.second ? [{ label: '', unit: row.second.unit, cells: row.second.numbers }] : [];
  return [value!, ...second, ...views];
}

function cellText(figure: SheetFigure, unit: string): string {
  return figure.unit === unit ? figure.number : bareText({ ...figure, second: null });
}

function notes(row: SheetRow): string[] {
  const same = row.same.map(({ label, text }) => `${label} ${text}`);
  const limits = row.limits === '' ? '' : `limits ${row.limits}`;
  return [...same, limits, row.state, row.note].filter((note) => note !== '');
}

export function under(texts: readonly string[], style: Style): string[] {
  return texts.length === 0 ? [] : paragraph('      ', texts.join('; ')).map(style.faint);
}

function right(text: string, width: number): string {
  return ' '.repeat(Math.max(0, width - widthOf(text))) + text;
}

function written({ label, unit, cells }: Line, width: number): string[] {
  const figures = cells.map((text) => right(text, width)).join('');
  const start = (text: string): string => `${text.padEnd(labelWidth)} ${unit.padEnd(unitWidth)}`;
  const lines = widthOf(label) <= labelWidth ? [start(label) + figures] : [label, start('') + figures];
  return lines.map((line) => line.trimEnd());
}

/** In each column the decimal points of one figure's views stand under each other; another unit has points of its own. */
function pointsAligned(lines: readonly Line[]): Line[] {
  const set = lines.map((line) => ({ ...line, cells: [...line.cells] }));
  const alike = set.filter(({ unit }) => unit === lines[0]?.unit);
  lines[0]?.cells.forEach((_, column) => {
    const texts = alike.map(({ cells }) => cells[column]!);
    aligned(texts, 'point').forEach((text, at) => (alike[at]!.cells[column] = text));
  });
  return set;
}
