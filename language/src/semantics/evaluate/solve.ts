/** `solve`: figures for which equations hold, in every cell at once. One unknown here; several in newton.ts. */
import type { Expr, Solve } from '../ir.ts';
import { expand, expandMarks, unionAxes, unionOf } from './broadcast.ts';
import type { Frame } from './frame.ts';
import { newton } from './newton.ts';
import { trialAxis } from './refined.ts';
import { cellsAlong, markAt, numbers, worse } from './tensor.ts';
import { Mark } from './value.ts';
import type { Axis, Numbers, Tensor } from './value.ts';

/** Looks between the bounds for a change of sign. */
const intervals = 64;
/** No bracket of doubles stands more halvings than these. */
const mostTurns = 200;
/** Of the unknown. */
const precision = 1e-14;
/** A root near 0 is found to this part of the interval of the scan. */
const floor = 1e-18;
/** Of the figures round a change of sign: what is left at a true root; at a leap much more stays. */
const vanished = 1e-3;
export const trialId = -2;

export interface Bounds {
  readonly from: Tensor;
  readonly to: Tensor;
}
/** Right sides less left ones at trial figures of the unknowns, and the sizes that they are small beside. */
export type Residuals = (trial: readonly Tensor[]) => readonly { readonly gap: Tensor; readonly size: Tensor }[];

export function evaluateSolve(expr: Solve, frame: Frame): Numbers {
  const bounds = expr.unknowns.map(({ from, to }) => ({ from: frame.tensor(from), to: frame.tensor(to) }));
  let first: Frame | null = null;
  const residuals: Residuals = (trial) => {
    const unknowns = expr.unknowns.map(({ local }, at) => ({ local, value: numbers(trial[at]!) }));
    const trying = frame.trying(unknowns);
    first ??= trying;
    return expr.equations.map(({ left, right }) => differ(trying.tensor(left), trying.tensor(right)));
  };
  const solved = expr.unknowns.length === 1 ? bracketed(bounds[0]!, residuals) : newton(bounds, residuals);
  if (solved.without) {
    const ranges = expr.unknowns.map(
      ({ name, from, to }) => `${name} between ${asWritten(from, frame)} and ${asWritten(to, frame)}`,
    );
    frame.missing(`no ${ranges.join(' with ')}`, expr.at);
  } else if (solved.tensor.mark?.includes(Mark.missing)) (first as Frame | null)?.tell(frame);
  return numbers(solved.tensor);
}

/** A bound in the words of the text, for the reason only. */
function asWritten(bound: Expr, frame: Frame): string {
  return bound.at?.$cstNode?.text ?? String(frame.tensor(bound).data[0]);
}

function differ(left: Tensor, right: Tensor): { readonly gap: Tensor; readonly size: Tensor } {
  const axes = unionAxes(left.axes, right.axes);
  const [a, b] = [expand(left, axes), expand(right, axes)];
  const mark = worse(a.mark, b.mark);
  const gap = { axes, data: a.data.map((figure, cell) => figure - b.data[cell]!), mark };
  return { gap, size: { axes, data: a.data.map((figure, cell) => Math.abs(figure) + Math.abs(b.data[cell]!)), mark } };
}

export interface Solved {
  readonly tensor: Tensor;
  /** True where some cell has all its figures and yet no solution. */
  readonly without: boolean;
}

/** A root between brackets: the ends with figures of opposite signs, by Chandrupatla's method (1997). */
interface Bracket {
  a: number;
  b: number;
  c: number;
  fa: number;
  fb: number;
  fc: number;
  fraction: number;
  done: boolean;
  /** Size of the interval that the scan found, and of the figures at its ends. */
  readonly width: number;
  readonly height: number;
}

function bracketed({ from, to }: Bounds, residuals: Residuals): Solved {
  const scan = trialAxis(trialId, 'trial', intervals + 1);
  const ends = unionAxes(from.axes, to.axes);
  const grid = gridOf(expand(from, ends), expand(to, ends), scan);
  const { gap } = residuals([grid])[0]!;
  const rest = unionOf([ends, gap.axes.filter((axis) => axis !== scan)]);
  const all = [...rest, scan];
  const [x, y] = [expand(grid, all), expand(gap, all)];
  const cells = cellsAlong(rest);
  const brackets = Array.from({ length: cells }, (_, cell) => bracketsAlong(x.data, y.data, cell * scan.size));
  const roots = refine(brackets, rest, residuals);
  return marked(
    roots,
    rest,
    all,
    y,
    worse(expandMarks(from.mark, from.axes, rest), expandMarks(to.mark, to.axes, rest)),
  );
}

/** Coordinates of the scan, from the lower bound up. */
function gridOf(from: Tensor, to: Tensor, scan: Axis): Tensor {
  const axes = [...from.axes, scan];
  const data = new Float64Array(cellsAlong(axes));
  for (let cell = 0; cell < data.length; cell++) {
    const own = Math.floor(cell / scan.size);
    const [low, high] = [Math.min(from.data[own]!, to.data[own]!), Math.max(from.data[own]!, to.data[own]!)];
    const step = cell % scan.size;
    data[cell] = step === intervals ? high : low + ((high - low) * step) / intervals;
  }
  const marks = worse(from.mark, to.mark);
  return {
    axes,
    data,
    mark: marks === null ? null : Uint8Array.from(data, (_, cell) => marks[Math.floor(cell / scan.size)]!),
  };
}

/** Changes of sign along one scan, lowest first; one point where a root lies on the grid. */
function bracketsAlong(x: Float64Array, y: Float64Array, start: number): Bracket[] {
  const found: Bracket[] = [];
  for (let at = start; at <= start + intervals; at++) {
    const here = y[at]!;
    if (here === 0)
      found.push({
        a: x[at]!,
        b: x[at]!,
        c: x[at]!,
        fa: 0,
        fb: 0,
        fc: 0,
        fraction: 0.5,
        done: true,
        width: 0,
        height: 0,
      });
    const next = at < start + intervals ? y[at + 1]! : NaN;
    if ((here < 0 && next > 0) || (here > 0 && next < 0)) {
      const [width, height] = [x[at + 1]! - x[at]!, Math.max(Math.abs(here), Math.abs(next))];
      found.push({
        a: x[at + 1]!,
        b: x[at]!,
        c: x[at]!,
        fa: next,
        fb: here,
        fc: here,
        fraction: 0.5,
        done: false,
        width,
        height,
      });
    }
  }
  return found;
}

/** The first true root of every cell: a change of sign where the function leaps or runs to infinity is passed over. */
function refine(brackets: readonly Bracket[][], rest: readonly Axis[], residuals: Residuals): Float64Array {
  const roots = new Float64Array(brackets.length).fill(NaN);
  let open = brackets.map((_, cell) => cell).filter((cell) => brackets[cell]!.length > 0);
  for (let nth = 0; open.length > 0; nth++) {
    const ends = open.map((cell) => brackets[cell]![nth]!);
    close(open, ends, brackets.length, rest, residuals);
    open = open.filter((cell, at) => {
      const { a, b, fa, fb, height } = ends[at]!;
      const nearer = Math.abs(fa) < Math.abs(fb) ? a : b;
      if (Math.min(Math.abs(fa), Math.abs(fb)) <= vanished * height) {
        roots[cell] = nearer;
        return false;
      }
      return nth + 1 < brackets[cell]!.length;
    });
  }
  return roots;
}

/** Narrows the brackets of all open cells together, one evaluation a turn. */
function close(
  open: readonly number[],
  ends: readonly Bracket[],
  cells: number,
  rest: readonly Axis[],
  residuals: Residuals,
): void {
  for (let turn = 0; turn < mostTurns && ends.some(({ done }) => !done); turn++) {
    const trial = new Float64Array(cells).fill(NaN);
    open.forEach((cell, at) => (trial[cell] = ends[at]!.a + ends[at]!.fraction * (ends[at]!.b - ends[at]!.a)));
    const mark =
      open.length === cells
        ? null
        : Uint8Array.from(trial, (figure) => (Number.isNaN(figure) ? Mark.missing : Mark.exact));
    const gap = expand(residuals([{ axes: rest, data: trial, mark }])[0]!.gap, rest).data;
    open.forEach((cell, at) => {
      if (!ends[at]!.done) step(ends[at]!, trial[cell]!, gap[cell]!);
    });
  }
}

function step(end: Bracket, x: number, y: number): void {
  if (Number.isNaN(y)) {
    end.done = true;
    end.fa = end.fb = Infinity;
    return;
  }
  if (y > 0 === end.fa > 0) {
    end.c = end.a;
    end.fc = end.fa;
  } else {
    end.c = end.b;
    end.b = end.a;
    end.fc = end.fb;
    end.fb = end.fa;
  }
  end.a = x;
  end.fa = y;
  const nearest = Math.abs(end.fa) < Math.abs(end.fb) ? end.a : end.b;
  const limit = (precision * Math.abs(nearest) + floor * end.width) / (2 * Math.abs(end.b - end.a));
  if (y === 0 || end.a === end.b || limit > 0.5 || end.fb === 0) {
    end.done = true;
    return;
  }
  const xi = (end.a - end.b) / (end.c - end.b);
  const phi = (end.fa - end.fb) / (end.fc - end.fb);
  let fraction = 0.5;
  if (phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi) {
    fraction =
      (end.fa / (end.fb - end.fa)) * (end.fc / (end.fb - end.fc)) +
      ((((end.c - end.a) / (end.b - end.a)) * end.fa) / (end.fc - end.fa)) * (end.fb / (end.fc - end.fb));
  }
  end.fraction = Math.min(1 - limit, Math.max(limit, fraction));
}

/** A cell is as good as the figures that its equation is made of; without a root it is missing. */
export function marked(
  roots: Float64Array,
  rest: readonly Axis[],
  all: readonly Axis[],
  gap: Tensor,
  bounds: Uint8Array | null,
): Solved {
  const trials = gap.data.length / Math.max(1, roots.length);
  const marks = new Uint8Array(roots.length);
  const [wide, lost] = [expand(gap, all), { any: false }];
  roots.forEach((root, cell) => {
    const own = Array.from({ length: trials }, (_, trial) => markAt(wide.mark, cell * trials + trial));
    const there = own.filter((mark) => mark < Mark.missing);
    const best = there.length === 0 ? Math.min(...own) : Math.max(...there);
    const mark = Math.max(best, markAt(bounds, cell));
    marks[cell] = Number.isNaN(root) ? Math.max(mark, Mark.missing) : mark;
    if (Number.isNaN(root) && mark < Mark.missing) lost.any = true;
  });
  return {
    tensor: { axes: rest, data: roots, mark: marks.every((mark) => mark === Mark.exact) ? null : marks },
    without: lost.any,
  };
}
