// Builds beside each other: what was changed, which checks differ for it, what follows. What is the same comes last.
import { resultFormat } from '@thou/shared/result/contract';
import type { CompareResult, ComparedCheck, ComparedFigure } from '@thou/shared/result/compare';
import type { CheckState } from '../semantics/plan/outcome.ts';
import { nested } from './cells.ts';
import { pathWords, stateWords } from './check-words.ts';
import { noFigure, type Condensed, type CondensedFigure } from './condensed.ts';
import { plainStyle } from './style.ts';
import type { Style } from './style.ts';
import { aligned, table } from './table.ts';
import { inUnit } from './units.ts';
import type { Showing } from './units.ts';

export function compareResult(builds: readonly Condensed[], thou: string): CompareResult {
  const paths = new Set(builds.flatMap(({ figures }) => [...figures.keys()]));
  const ids = new Set(builds.flatMap(({ checks }) => [...checks.keys()]));
  const figures = [...paths].map((path) =>
    comparedFigure(
      path,
      builds.map((build) => build.figures.get(path) ?? null),
    ),
  );
  const checks = [...ids].map((id): ComparedCheck => {
    const states = builds.map((build) => build.checks.get(id) ?? null);
    return { id, differs: states.some((state) => state !== states[0]), states };
  });
  return {
    format: resultFormat,
    thou,
    builds: builds.map(({ build }) => build),
    files: builds.map(({ file }) => file),
    figures: differentFirst(figures),
    checks: differentFirst(checks),
  };
}

function differentFirst<T extends { readonly differs: boolean }>(all: readonly T[]): T[] {
  return [...all.filter(({ differs }) => differs), ...all.filter(({ differs }) => !differs)];
}

function comparedFigure(path: string, found: readonly (CondensedFigure | null)[]): ComparedFigure {
  const first = found.find((one) => one !== null)!;
  const texts = found.map((one) => one?.text ?? noFigure);
  const made = new Map<CondensedFigure, ComparedFigure['values'][number]>();
  for (const one of found) if (one !== null && !made.has(one)) made.set(one, valuesOf(one, first.showing));
  const given = found.some((one) => one?.given === true);
  const isUnlike = !first.isMeasure && texts.some((text) => text !== texts[0]);
  return {
    path,
    unit: first.unit,
    axes: first.axes.map(({ name }) => name),
    given,
    differs: isUnlike || found.some((one) => differ(first, one, given ? 0 : first.digit)),
    values: found.map((one) => (one === null ? null : made.get(one)!)),
    texts,
  };
}

/** By more than the last digit that is shown; given figures by anything at all. */
function differ(a: CondensedFigure, b: CondensedFigure | null, digit: number | null): boolean {
  if (a === b || !a.isMeasure) return false;
  if (b === null || a.cells.length !== b.cells.length) return true;
  return a.cells.some((one, cell) => {
    const other = b.cells[cell]!;
    if (Number.isNaN(one) || Number.isNaN(other)) return !Object.is(one, other);
    return Math.abs(one - other) > Math.max((digit ?? 0) * 0.999, 1e-12 * Math.abs(one));
  });
}

function valuesOf({ isMeasure, axes, cells }: CondensedFigure, showing: Showing): ComparedFigure['values'][number] {
  if (!isMeasure) return null;
  return nested(axes, (cell) => {
    const si = cells[cell]!;
    return Number.isNaN(si) ? null : inUnit(si, showing);
  });
}

export function compareText(result: CompareResult, all: boolean, style: Style = plainStyle): string {
  const { figures, checks } = result;
  const builds = headsOf(result);
  const different = figures.filter(({ differs }) => differs);
  const same = figures.filter(({ differs }) => !differs);
  const blocks = [
    block('What was changed', builds, rowsOf(different.filter(({ given }) => given)), style),
    block('Checks that differ', builds, checks.filter(({ differs }) => differs).map(checkRow), style),
    block('What follows', builds, rowsOf(different.filter(({ given }) => !given)), style),
    ...(all
      ? [
          block('The same in all: checks', builds, checks.filter(({ differs }) => !differs).map(checkRow), style),
          block('The same in all: figures', builds, rowsOf(same), style),
        ]
      : []),
  ].filter((lines) => lines.length > 0);
  const nothing = blocks.length === 0 ? [['Nothing differs.']] : [];
  const sameChecks = checks.filter(({ differs }) => !differs).length;
  const rest = all
    ? []
    : [[style.faint(`The same in all: ${same.length} figures and ${sameChecks} checks (--all shows them).`)]];
  const head = [style.title(builds.join(' beside '))];
  return `${[head, ...nothing, ...blocks, ...rest].map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

/** With its file, where builds of several are called so. */
function headsOf({ builds, files }: CompareResult): string[] {
  const filesOf = new Map<string, Set<string>>();
  builds.forEach((build, at) => filesOf.set(build, (filesOf.get(build) ?? new Set()).add(files[at]!)));
  return builds.map((build, at) => (filesOf.get(build)!.size > 1 ? `${build} in ${files[at]!}` : build));
}

function rowsOf(figures: readonly ComparedFigure[]): string[][] {
  return figures.map(({ path, texts }) => [pathWords(path), ...texts]);
}

function checkRow({ id, states }: ComparedCheck): string[] {
  const name = id.startsWith('expect ') ? `"${id}"` : pathWords(id);
  return [name, ...states.map((state) => (state === null ? '—' : stateWords[state as CheckState]))];
}

function block(title: string, builds: readonly string[], rows: readonly (readonly string[])[], style: Style): string[] {
  if (rows.length === 0) return [];
  const columns = builds.map((build, at) => {
    const texts = rows.map((row) => row[at + 1]!);
    return [build, ...aligned(texts, 'point')];
  });
  const laid = table(
    [
      ['', ...columns.map(([head]) => head!)],
      ...rows.map(([name], at) => [`  ${name}`, ...columns.map((one) => one[at + 1]!)]),
    ],
    ['left', ...builds.map(() => 'left' as const)],
  );
  const [head = '', ...body] = laid;
  return [style.title(title), style.faint(head), ...body];
}
