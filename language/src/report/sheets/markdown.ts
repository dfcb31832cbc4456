// A sheet as Markdown: reads well as it stands, and as a page. What comes from a file is escaped.
import type { SheetDrawing } from '@thou/shared/result/sheet';
import { figureText } from '../figures.ts';
import { stateWords } from '../check-words.ts';
import { placeInWords } from '../place.ts';
import type { Block, Cell, GridBlock, GridRow, Part, SheetDocument } from './document.ts';

export function sheetMarkdown({ title, head, parts }: SheetDocument): string {
  const blocks = [`# ${plain(title)}`, ...head.flatMap(blockText), ...parts.flatMap(partText)];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

function partText(part: Part): string[] {
  const inside = part.blocks().flatMap(blockText);
  if (inside.length === 0) return [];
  return [
    part.title === '' ? '' : `## ${plain(part.title)}${part.counted === '' ? '' : ` (${part.counted})`}`,
    part.about === '' ? '' : `_${plain(part.about)}_`,
    ...inside,
  ];
}

function blockText(block: Block): string[] {
  switch (block.is) {
    case 'text':
      return [block.look === 'summary' || block.look === 'mistake' ? `**${plain(block.text)}**` : plain(block.text)];
    case 'list':
      return [block.lines.map((line) => `- ${plain(line)}`).join('\n')];
    case 'blanks':
      return [block.names.map((name) => `${plain(name)}: ${blank}`).join('   ')];
    case 'findings':
      return block.findings.map(findingText);
    case 'tasks': {
      const { title, tasks } = block.list;
      const lines = tasks.map(
        ({ task, done, said }) =>
          `- [${done ? 'x' : ' '}] ${plain(task || title)}${said === '' ? '' : `, ${plain(said)}`}`,
      );
      return [`### ${plain(title)}`, lines.join('\n')];
    }
    case 'steps':
      return block.steps.flatMap(({ title, text, grid, drawing, blanks }, at) => [
        `### ${at + 1}. ${plain(title)}`,
        plain(text),
        ...(grid ? gridText(grid) : []),
        ...(drawing ? [drawingText(drawing)] : []),
        [...blanks, 'Done', 'By'].map((name) => `${plain(name)}: ${blank}`).join('   '),
      ]);
    case 'drawing':
      return [drawingText(block.drawing)];
    case 'table':
      return [
        `**${plain(block.caption)}**`,
        tableText(
          block.heads,
          block.rows.flatMap(({ cells, under }) => [
            cells.map(cellText),
            ...(under === undefined || under === ''
              ? []
              : [[`_${plain(under)}_`, ...block.heads.slice(1).map(() => '')]]),
          ]),
        ),
      ];
    case 'grid':
      return gridText(block);
  }
}

function drawingText({ title, drawing }: SheetDrawing): string {
  return `_Drawing: ${plain(title)}. ${plain(drawing.shows.description)}_`;
}

const blank = '\\_\\_\\_\\_\\_\\_\\_\\_';

function findingText({
  state,
  severity,
  headline,
  lines,
  place,
}: (Block & { is: 'findings' })['findings'][number]): string {
  const word = stateWords[state as keyof typeof stateWords] ?? state;
  const weight = severity === 'hint' ? '' : `, ${severity}`;
  const told = lines.map(({ label, text }) => `  - ${label}: ${plain(text)}`);
  const at = placeInWords(place);
  return [`- **${word}${weight}:** ${plain(headline)}`, ...told, ...(at === '' ? [] : [`  - ${plain(at)}`])].join('\n');
}

function cellText(cell: Cell): string {
  if (typeof cell === 'string') return plain(cell);
  return 'text' in cell ? plain(cell.text) : blank;
}

/** One table for figures with the same heads. */
function gridText({ groups }: GridBlock): string[] {
  return groups.map(({ by, heads, rows }) => {
    const limits = rows.some((row) => row.limits !== '');
    const notes = rows.some((row) => row.notes !== '');
    const first = by === '' ? 'Figure' : `Figure, by ${by}`;
    return tableText(
      [first, ...(by === '' ? [] : ['Unit']), ...heads, ...(limits ? ['Limits'] : []), ...(notes ? ['Notes'] : [])],
      rows.map((row) => [
        plain(nameOf(row)),
        ...(by === '' ? [] : [plain(row.unit)]),
        ...row.cells.map(({ figure, marked }) => {
          if (figure === null) return blank;
          const text = by !== '' && figure.unit === row.unit ? figure.number : figureText(figure);
          return marked ? `**!** ${plain(text)}` : plain(text);
        }),
        ...(limits ? [plain(row.limits)] : []),
        ...(notes ? [plain(row.notes)] : []),
      ]),
    );
  });
}

function nameOf({ name, where }: Pick<GridRow, 'name' | 'where'>): string {
  return [name, where].filter((one) => one !== '').join(', ');
}

function tableText(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [line(heads.map(plain)), line(heads.map(() => '---')), ...rows.map(line)].join('\n');
}

/** What means something in Markdown stands for itself. */
function plain(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .replace(/[\\`*_[\]<>|~#]/g, (mark) => `\\${mark}`)
    .replace(/&(?=\w+;|#)/g, '&amp;');
}
