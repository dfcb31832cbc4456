// One reading as it is typed: whether it can be one, what is to be thought of it, and how it is written into the build.
import { readingMethod, type ReadingAsked, type ReadingTold } from '@thou/shared/protocol-readings';
import { plainFigure } from '@thou/shared/number/foreign';
import { parseFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { cellAt, held } from '../../report/cells.ts';
import { withUnit } from '../../report/figures.ts';
import { headline } from '../../report/headline.ts';
import { locate } from '../../report/locate.ts';
import { showingsIn } from '../../report/units.ts';
import { styleOf } from '../../report/writing.ts';
import type { Outcome, SlotOutcome } from '../../semantics/plan/outcome.ts';
import type { FileResult } from '../../semantics/project.ts';
import type { Edit } from '../code-actions/edit.ts';
import { tried } from '../code-actions/trial.ts';
import { request, type Feature } from '../feature.ts';
import { toRange } from '../positions.ts';
import type { Workspace } from '../workspace.ts';
import { buildMeant } from './due.ts';
import { noteProblem, writtenDown, type Figure } from './write-down.ts';

export const measureFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<ReadingAsked, ReadingTold>({ method: readingMethod }, (asked, { workspace }) => reading(workspace, asked)),
  ],
};

export function reading(workspace: Workspace, asked: ReadingAsked): ReadingTold {
  const { uri } = asked.textDocument;
  const outcome = buildMeant(workspace, uri, asked.build, null);
  const source = workspace.source(uri);
  const found = outcome ? locate(outcome, asked.figure) : { problem: `There is no build "${asked.build}" here.` };
  if (!outcome || !source || 'problem' in found) return refused('problem' in found ? found.problem : '');
  const { one, places } = found;
  if (places.includes(null)) return refused(`Say which one: ${asked.figure} has several.`);
  const cell = cellAt(one.axes, places as readonly number[]);
  const objection = noteProblem(asked);
  if (objection !== null) return refused(objection);
  const own = styleOf(outcome, one.slot.id, cell).unit?.symbol ?? null;
  const figure = figureIn(asked.typed, own);
  if ('problem' in figure) return refused(figure.problem);
  const edits = writtenDown(outcome, source, one, cell, figure, asked);
  if (edits === null) return refused('The text of this build is not in this file.');
  const after = tried(workspace, uri, edits);
  const wrong = newErrors(workspace.result(uri), after, edits);
  if (wrong !== null) return refused(wrong);
  const positions = workspace.positionsOf(uri);
  return {
    problem: null,
    remark: remarkOn(outcome, one, cell, after),
    edits: edits.map((edit) => ({ range: toRange(positions, edit), newText: edit.text })),
  };
}

function refused(problem: string): ReadingTold {
  return { problem, remark: null, edits: [] };
}

/** A figure of the language, with the unit that it has by itself where none is typed. */
function figureIn(typed: string, own: string | null): Figure | { readonly problem: string } {
  const text = typed.trim();
  if (text === '') return { problem: 'Type the figure that was read.' };
  const point = plainFigure(text, ',');
  if (point !== null && plainFigure(text, '.') === null) return { problem: `Write a decimal point: ${point}.` };
  const { blocks, problems } = parseFile('', `build reading { it: ${text}\n}\n`);
  if (problems.length > 0) return { problem: problems[0]!.message };
  const members = (blocks[0]?.parsed.item as ast.Build | undefined)?.body?.members ?? [];
  const given = members[0] as ast.Given | undefined;
  const value = given?.value as (ast.Expr & { readonly operator?: string; readonly operand?: ast.Expr }) | undefined;
  const plain = value?.operator === '-' && value.operand ? value.operand : value;
  if (
    members.length !== 1 ||
    !given ||
    given.notes.length > 0 ||
    plain?.$type !== 'Quantity' ||
    plain.margin !== undefined
  )
    return { problem: 'Type one figure, with its unit where it is another.' };
  return { number: `${plain === value ? '' : '-'}${plain.number}`, unit: plain.unit ?? own };
}

/** Beside what was wrong before: what is wrong now where something was written. */
function newErrors(before: FileResult, after: FileResult, edits: readonly Edit[]): string | null {
  const known = new Set(before.problems.map(({ code, message }) => `${code} ${message}`));
  const wrong = after.problems.filter(
    ({ severity, code, message }) => severity === 'error' && !known.has(`${code} ${message}`),
  );
  const shift = edits.reduce((sum, { start, end, text }) => sum + text.length - (end - start), 0);
  const [from, to] = [Math.min(...edits.map(({ start }) => start)), Math.max(...edits.map(({ end }) => end)) + shift];
  const here = wrong.filter(({ start, end }) => start <= to && end >= from);
  // a unit that is not known is missing too
  return (here.find(({ code }) => code !== 'unit.missing') ?? here[0] ?? wrong[0])?.message ?? null;
}

const farOff = 2;

/** What is out through it and was not before; a figure far from what was ordered; one that something later overrules. */
function remarkOn(outcome: Outcome, one: SlotOutcome, cell: number, after: FileResult): string | null {
  const now = after.outcomes.find(({ binding }) => binding.name === outcome.binding.name);
  const there = now?.slots.find(({ slot }) => slot.path === one.slot.path);
  if (!now || !there) return null;
  if (there.states[cell] !== 'measured') return 'A later cut or a later reading goes before this one.';
  const [ordered, read] = [held(one.views.ordered, one.axes, cell), held(there.views.measured, there.axes, cell)];
  if (ordered.is === 'number' && read.is === 'number' && ordered.value !== 0) {
    const ratio = read.value / ordered.value;
    if (!(ratio > 1 / farOff && ratio < farOff))
      return `That is far from what was ordered, ${withUnit(ordered.value, showingsIn(outcome, one.slot)[0]!)}.`;
  }
  const out = new Set(outcome.checks.filter(({ state }) => state === 'out-of-limits').map(({ id }) => id));
  const worse = now.checks.filter(({ state, id }) => state === 'out-of-limits' && !out.has(id));
  const [first, ...others] = worse;
  if (!first) return null;
  return `${headline(now, first)}${others.length === 0 ? '' : ` And ${others.length} more.`}`;
}
