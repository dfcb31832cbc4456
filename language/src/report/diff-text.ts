// What changed between two states of a file, for a terminal and as Markdown for a pull request.
import type { BuildDiff, ChangedCheck, ChangedInput, DiffResult, MovedFigure } from '@thou/shared/result/diff';
import type { CheckState } from '../semantics/plan/outcome.ts';
import { pathWords, stateWords } from './check-words.ts';
import { isChanged } from './diff.ts';
import { listed, placeInWords } from './place.ts';
import { plainStyle } from './style.ts';
import type { Style } from './style.ts';
import { paragraph, table } from './table.ts';

interface Section {
  readonly title: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** Where the view is not the measured one, it is said. */
const viewWords: Readonly<Record<ChangedInput['view'], string>> = {
  measured: '',
  ordered: 'as ordered',
  specified: 'as specified',
  before: 'before the cut',
};

function sectionsOf({ inputs, checks, figures }: BuildDiff): Section[] {
  const moved = figures.filter(({ beyond }) => beyond);
  return [
    {
      title: 'What was changed',
      head: ['', 'was', 'is', ''],
      rows: inputs.map((one) => [
        one.label,
        one.old ?? 'not given',
        one.new ?? 'not given',
        [viewWords[one.view], placeInWords(one.place)].filter((part) => part !== '').join(', '),
      ]),
    },
    {
      title: 'Checks that changed',
      head: ['', 'was', 'is', ''],
      rows: [...checks].sort((a, b) => Number(b.worse) - Number(a.worse)).map(checkRow),
    },
    { title: 'What follows', head: ['', 'was', 'is', ''], rows: moved.map(movedRow) },
  ].filter(({ rows }) => rows.length > 0);
}

function checkRow({ id, old, new: now, worse }: ChangedCheck): string[] {
  return [checkName(id), stateText(old), stateText(now), worse ? 'worse' : 'better'];
}

function checkName(id: string): string {
  return id.startsWith('expect ') ? `"${id}"` : pathWords(id);
}

function stateText(state: string | null): string {
  return state === null ? 'not there' : stateWords[state as CheckState];
}

function movedRow({ label, old, new: now }: MovedFigure): string[] {
  return [label, old, now, ''];
}

/** Figures that moved by less than is known of them. */
function withinKnown({ figures }: BuildDiff): string {
  const names = figures.filter(({ beyond }) => !beyond).map(({ path }) => pathWords(path));
  if (names.length === 0) return '';
  return `Moved too, by less than is known of ${names.length === 1 ? 'it' : 'them'}: ${names.join(', ')}.`;
}

/** What is worse now, each with what is said of it. */
function troubles({ checks }: BuildDiff): string[] {
  return checks.filter(({ worse, new: now }) => worse && now !== 'cannot-tell').map(({ message }) => message);
}

function standing(build: BuildDiff, { old, new: now }: DiffResult): string {
  if (build.in === 'old') return `is in ${old} only`;
  if (build.in === 'new') return `is in ${now} only`;
  return isChanged(build) ? '' : 'nothing changed';
}

/** In a folder with its file. */
function nameOf({ name, file, oldFile }: BuildDiff): string {
  if (file === null) return name;
  return `${name} in ${file}${oldFile === null ? '' : `, which was ${oldFile}`}`;
}

/** `2 builds changed, 1 is new, 997 are the same.` */
function sumOf({ builds, same }: DiffResult): string {
  if (same === null) return '';
  const many = (where: BuildDiff['in']): number => builds.filter((build) => build.in === where).length;
  const verb = (count: number): string => `${count} ${count === 1 ? 'is' : 'are'}`;
  const parts = [
    many('both') > 0 ? `${many('both')} changed` : '',
    many('new') > 0 ? `${verb(many('new'))} new` : '',
    many('old') > 0 ? `${verb(many('old'))} gone` : '',
    `${verb(same)} the same`,
  ].filter((part) => part !== '');
  return `Of ${builds.length + same} builds ${listed(parts)}.`;
}

/** Of a folder: what is in store, before it is told build by build. */
function overview({ builds, same }: DiffResult): Section[] {
  if (same === null || builds.length < 2) return [];
  const counts = ({ in: where, inputs, checks }: BuildDiff): string[] => [
    where === 'both' ? String(inputs.length) : where === 'new' ? 'new' : 'gone',
    String(checks.filter(({ worse }) => worse).length),
    String(checks.filter(({ worse }) => !worse).length),
  ];
  const head = ['', 'given figures changed', 'checks worse', 'checks better'];
  return [{ title: 'Builds', head, rows: builds.map((build) => [nameOf(build), ...counts(build)]) }];
}

function mistakesSection({ mistakes }: DiffResult): Section[] {
  const rows = mistakes.map(({ file, line, message, in: where }) => {
    return [`${file}:${line}`, where === 'new' ? 'new' : 'mended', message];
  });
  return rows.length === 0 ? [] : [{ title: 'Mistakes in the text', head: ['', '', ''], rows }];
}

/** Of the whole, before its builds. */
function first(result: DiffResult): Section[] {
  return [...overview(result), ...mistakesSection(result)];
}

export function diffText(result: DiffResult, style: Style = plainStyle): string {
  const blocks = result.builds.flatMap((build) => {
    const said = standing(build, result);
    const known = withinKnown(build);
    return [
      [style.title(said === '' ? nameOf(build) : `${nameOf(build)}: ${said}`)],
      ...sectionsOf(build).map((section) => sectionLines(section, style)),
      ...troublesBlock(build, style),
      ...(known === '' ? [] : [[style.faint(known)]]),
    ];
  });
  const sum = sumOf(result);
  const head = [`From ${result.old} to ${result.new}`, ...(sum === '' ? [] : [sum])];
  const sections = first(result).map((section) => sectionLines(section, style));
  return `${[head, ...sections, ...blocks].map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function sectionLines({ title, head, rows }: Section, style: Style): string[] {
  const [heads = '', ...body] = table(
    [head, ...rows.map(([name, ...rest]) => [`  ${name}`, ...rest])],
    head.map(() => 'left' as const),
  );
  return [style.title(title), ...(heads.trim() === '' ? [] : [style.faint(heads)]), ...body];
}

function troublesBlock(build: BuildDiff, style: Style): string[][] {
  const told = troubles(build);
  return told.length === 0
    ? []
    : [[style.title('What does not hold any more'), ...told.flatMap((message) => paragraph('  ', message))]];
}

export function diffMarkdown(result: DiffResult): string {
  const blocks = result.builds.flatMap((build) => {
    const said = standing(build, result);
    const known = withinKnown(build);
    return [
      `## ${escaped(nameOf(build))}`,
      ...(said === '' ? [] : [`${escaped(said)}.`]),
      ...sectionsOf(build).map(markdownTable),
      ...troubles(build).map((message) => `- ${escaped(message)}`),
      ...(known === '' ? [] : [escaped(known)]),
    ];
  });
  const sum = sumOf(result);
  const head = [`# From ${escaped(result.old)} to ${escaped(result.new)}`, ...(sum === '' ? [] : [escaped(sum)])];
  return `${[...head, ...first(result).map(markdownTable), ...blocks].join('\n\n')}\n`;
}

function markdownTable({ title, head, rows }: Section): string {
  const line = (cells: readonly string[]): string => `| ${cells.map(escaped).join(' | ')} |`;
  return [`**${title}**`, '', line(head), `|${' --- |'.repeat(head.length)}`, ...rows.map(line)].join('\n');
}

/** Nothing out of a file becomes a link, a picture, a tag or another cell. */
function escaped(text: string): string {
  return text.replace(/[\\`*_[\]<>|#~!&]/g, '\\$&').replace(/\s+/g, ' ');
}
