/** `if`, cases by choice, `otherwise`: which figure counts is decided cell by cell, and only that one counts. */
import type { BinaryOp, ByChoice, Choose, Expr } from '../ir.ts';
import { axesOfAll, expand, expandMarks, expandValue, unionAxes, unionOf, weighed } from './broadcast.ts';
import { ValueBuilder } from './builder.ts';
import type { Frame } from './frame.ts';
import { cellsAlong, markAt, marksOf, numbers, without } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Tensor, Value } from './value.ts';

const undecided = -1;

export function evaluateIf(expr: Choose, frame: Frame): Value {
  const condition = frame.tensor(expr.condition);
  const cases = [expr.no, expr.yes];
  return choose(condition, (figure) => (figure === 0 ? 0 : 1), cases, frame);
}

export function evaluateByChoice(expr: ByChoice, frame: Frame): Value {
  const subject = frame.tensor(expr.subject);
  const places = new Map(expr.cases.map(({ key }, at) => [key, at]));
  const cases = [...expr.cases.map(({ value }) => value), ...(expr.others ? [expr.others] : [])];
  const others = expr.others ? expr.cases.length : undecided;
  const chosen = choose(subject, (figure) => places.get(figure) ?? others, cases, frame);
  if (others === undecided && subject.data.some((figure) => !Number.isNaN(figure) && !places.has(figure))) {
    frame.missing('no figure is given for this choice', expr.at);
  }
  return chosen;
}

/** One of `cases` for every cell of `subject`; those that no cell takes are not evaluated. */
function choose(subject: Tensor, caseOf: (figure: number) => number, cases: readonly Expr[], frame: Frame): Value {
  const taken = new Int32Array(subject.data.length);
  const used = new Set<number>();
  for (let cell = 0; cell < taken.length; cell++) {
    taken[cell] = Number.isNaN(subject.data[cell]) ? undecided : caseOf(subject.data[cell]!);
    used.add(taken[cell]!);
  }
  if (used.size === 1 && !used.has(undecided)) {
    const only = frame.value(cases[taken[0]!]!);
    if (subject.mark === null) return only;
    const axes = unionAxes(axesOfAll(only), subject.axes);
    return weighed(expandValue(only, axes), expandMarks(subject.mark, subject.axes, axes));
  }
  used.delete(undecided);
  if (used.size === 0) return numbers(without(subject.axes, worst(subject)));
  return mixed(
    subject,
    taken,
    [...used].sort((a, b) => a - b),
    cases,
    frame,
  );
}

function worst(subject: Tensor): number {
  return subject.mark !== null && subject.mark.every((mark) => mark === Mark.absent) ? Mark.absent : Mark.missing;
}

function mixed(
  subject: Tensor,
  taken: Int32Array,
  used: readonly number[],
  cases: readonly Expr[],
  frame: Frame,
): Value {
  const branches = used.map((at) => {
    const own = frame.holding();
    return { at, value: own.value(cases[at]!), frame: own };
  });
  const axes = unionOf([subject.axes, ...branches.map(({ value }) => axesOfAll(value))]);
  const cells = cellsAlong(axes);
  const wide = branches.map(({ value }) => expandValue(value, axes));
  const caseMarks = wide.map(marksOf);
  const branchAt = new Map(used.map((at, branch) => [at, branch]));
  const which = expand({ axes: subject.axes, data: Float64Array.from(taken), mark: null }, axes).data;
  const marks = expandMarks(subject.mark, subject.axes, axes);
  const builder = new ValueBuilder(axes, cells);
  const lost = new Set<number>();
  for (let cell = 0; cell < cells; cell++) {
    const branch = branchAt.get(which[cell]!);
    if (branch === undefined) {
      builder.leave(cell, Math.max(Mark.missing, markAt(marks, cell)));
      continue;
    }
    builder.copy(cell, wide[branch]!, cell, markAt(marks, cell));
    if (markAt(caseMarks[branch]!, cell) === Mark.missing) lost.add(branch);
  }
  for (const branch of lost) branches[branch]!.frame.tell(frame);
  return builder.done();
}

/** The second figure only where the first is not applicable; what is missing stays missing. */
export function evaluateOtherwise(expr: BinaryOp, frame: Frame): Value {
  const first = frame.value(expr.left);
  const marks = marksOf(first);
  if (marks === null || !marks.includes(Mark.absent)) return first;
  const second = frame.value(expr.right);
  const axes: readonly Axis[] = unionAxes(axesOfAll(first), axesOfAll(second));
  const cells = cellsAlong(axes);
  const [a, b] = [expandValue(first, axes), expandValue(second, axes)];
  const own = marksOf(a);
  const builder = new ValueBuilder(axes, cells);
  for (let cell = 0; cell < cells; cell++)
    builder.copy(cell, markAt(own, cell) === Mark.absent ? b : a, cell, Mark.exact);
  return builder.done();
}
