/** After an edit of one figure, only the line that it stands in is bound again. Anything out of the ordinary is for a whole reading. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import { Report } from '../problems/report.ts';
import type { Setting } from '../schema/build.ts';
import type { Assignment } from './binding.ts';
import { envHere } from './body.ts';
import type { Bound } from './build.ts';
import { Collected, fittedAt, type FigureRead } from './collect.ts';
import { bindFigure } from './figures.ts';

/** The same build with the line of `figure` as it is now; null where more than its value has changed. `report`: what was said of the build before. */
export function withFigureAnew(bound: Bound, figure: ast.Quantity, report: Report): Bound | null {
  const given = lineOf(figure);
  const read = given && bound.figuresRead.get(given);
  if (!given || !read || isSpokenOf(given, report)) return null;
  const { assignments } = bound.binding;
  const at = assignments.findIndex(({ origin }) => origin.at === given);
  const now = at < 0 ? null : readAnew(given, read, assignments[at]!, bound);
  if (now === null) return null;
  return { ...bound, binding: { ...bound.binding, assignments: assignments.with(at, now) } };
}

/** Signs, brackets and lists: whatever stands in them, a figure is just a figure. */
const plain: ReadonlySet<string> = new Set(['Binary', 'Paren', 'Prefixed', 'List', 'Entry']);

/** The line whose value a figure is part of; null where the figure picks, names or steers something. */
function lineOf(figure: ast.Quantity): ast.Given | null {
  let below: AstNode = figure;
  for (let at = figure.$container as AstNode | undefined; at; below = at, at = at.$container) {
    if (at.$type === 'Given') return below.$containerProperty === 'value' ? (at as ast.Given) : null;
    const isKey = at.$type === 'Entry' && (at as ast.Entry).item !== undefined && below.$containerProperty === 'value';
    const isPicking = at.$type === 'Paren' && below.$containerProperty === 'keys';
    if (!plain.has(at.$type) || isKey || isPicking) return null;
  }
  return null;
}

function isSpokenOf(given: ast.Given, { findings }: Report): boolean {
  return findings.some(({ target: { at } }) => {
    for (let node: AstNode | undefined = at; node; node = node.$container) if (node === given) return true;
    return false;
  });
}

function readAnew(given: ast.Given, read: FigureRead, before: Assignment, { fitted }: Bound): Assignment | null {
  const report = new Report();
  const asked: string[] = [];
  const setting: Setting = {
    ...read.place.setting,
    report,
    files: {
      read: (_, path) => {
        asked.push(path);
        return { problem: 'not-found', why: '' };
      },
    },
  };
  const into = new Collected();
  into.parts.push(...fitted);
  const { mount } = read.place.draft.slots[read.slot]!;
  if (fittedAt(mount, fitted) !== read.fitted) return null;
  const place = { ...read.place, setting, into };
  bindFigure(given, read.slot, place, envHere(place));
  const [now, ...more] = into.assignments;
  if (!now || more.length > 0 || report.findings.length > 0 || asked.length > 0) return null;
  return { ...now, order: before.order, block: before.block };
}
