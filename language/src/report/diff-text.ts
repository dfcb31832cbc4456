// What changed between two states of a file, for a terminal and as Markdown for a pull request.
import type { BuildDiff, ChangedCheck, ChangedInput, DiffResult, MovedFigure } from '@thou/shared/result/diff';
import type { CheckState } from '../semantics/plan/outcome.ts';
import { pathWords, stateWords } from './check-words.ts';
import { placeInWords } from './place.ts';
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

function standing({ in: where, inputs, checks, figures }: BuildDiff, { old, new: now }: DiffResult): string {
  if (where === 'old') return `is in ${old} only`;
  if (where === 'new') return `is in ${now} only`;
  return inputs.length + checks.length + figures.length === 0 ? 'nothing changed' : '';
}

export function diffText(result: DiffResult, style: Style = plainStyle): string {
  const blocks = result.builds.flatMap((build) => {
    const said = standing(build, result);
    const known = withinKnown(build);
    return [
      [style.title(said === '' ? build.name : `${build.name}: ${said}`)],
      ...sectionsOf(build).map(({ title, head, rows }) => {
        const [heads = '', ...body] = table(
          [head, ...rows.map(([name, ...rest]) => [`  ${name}`, ...rest])],
          head.map(() => 'left' as const),
        );
        return [style.title(title), style.faint(heads), ...body];
      }),
      ...troublesBlock(build, style),
      ...(known === '' ? [] : [[style.faint(known)]]),
    ];
  });
  const head = [`From ${result.old} to ${result.new}`];
  return `${[head, ...blocks].map((lines) => lines.join('\n')).join('\n\n')}\n`;
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
      `## ${escaped(build.name)}`,
      ...(said === '' ? [] : [`${escaped(said)}.`]),
      ...sectionsOf(build).map(markdownTable),
      ...troubles(build).map((message) => `- ${escaped(message)}`),
      ...(known === '' ? [] : [escaped(known)]),
    ];
  });
  return `${[`# From ${escaped(result.old)} to ${escaped(result.new)}`, ...blocks].join('\n\n')}\n`;
}

function markdownTable({ title, head, rows }: Section): string {
  const line = (cells: readonly string[]): string => `| ${cells.map(escaped).join(' | ')} |`;
  return [`**${title}**`, '', line(head), `|${' --- |'.repeat(head.length)}`, ...rows.map(line)].join('\n');
}

/** Nothing out of a file becomes a link, a picture, a tag or another cell. */
function escaped(text: string): string {
  return text.replace(/[\\`*_[\]<>|#~!&]/g, '\\$&').replace(/\s+/g, ' ');
}
