/** Two or three equations in as many unknowns: damped Newton from a fixed grid of starts, all cells and starts at once. */
import { expand, expandMarks, unionOf } from './broadcast.ts';
import { trialAxis } from './refined.ts';
import { marked, trialId } from './solve.ts';
import type { Bounds, Residuals, Solved } from './solve.ts';
import { cellsAlong, worse } from './tensor.ts';
import type { Axis, Tensor } from './value.ts';

/** Starts for each unknown: a sixth, the middle and five sixths of the way between its bounds. */
const starts = [1 / 2, 1 / 6, 5 / 6];
const mostTurns = 60;
const halvings = 12;
/** Of the sizes that both sides have at the starts. */
const settledGap = 1e-13;
/** Of the distance between the bounds, for the slopes. */
const nudge = 1e-7;

interface State {
  readonly axes: readonly Axis[];
  readonly count: number;
  readonly low: readonly Float64Array[];
  readonly high: readonly Float64Array[];
  readonly x: readonly Float64Array[];
  readonly residuals: (x: readonly Float64Array[]) => Reached;
}
interface Reached {
  readonly gaps: readonly Float64Array[];
  /** Greatest gap beside the size that its sides have at the starts; NaN where an equation has no figure. */
  readonly worst: Float64Array;
}

export function newton(bounds: readonly Bounds[], residuals: Residuals): Solved {
  const n = bounds.length;
  const trial = trialAxis(trialId, 'trial', starts.length ** n);
  const ends = unionOf(bounds.flatMap(({ from, to }) => [from.axes, to.axes]));
  const probe = startsAlong(bounds, [...ends, trial], trial);
  const first = residuals(probe);
  const rest = unionOf([ends, ...first.map(({ gap }) => gap.axes.filter((axis) => axis !== trial))]);
  const all = [...rest, trial];
  const scales = first.map(({ size }) => greatestAlong(expand(size, all).data, trial.size));
  const state = stateOf(bounds, startsAlong(bounds, all, trial), all, residuals, scales);
  const worst = run(state);
  const roots = new Float64Array(cellsAlong(rest)).fill(NaN);
  for (let cell = 0; cell < roots.length; cell++) {
    for (let at = cell * trial.size; at < (cell + 1) * trial.size; at++) {
      if (!(worst[at]! <= 1e-10)) continue;
      roots[cell] = state.x[0]![at]!;
      break;
    }
  }
  const gap = first.map((one) => expand(one.gap, all)).reduce((a, b) => ({ ...a, mark: worse(a.mark, b.mark) }));
  const marks = bounds
    .flatMap(({ from, to }) => [from, to])
    .reduce<Uint8Array | null>((mark, end) => worse(mark, expandMarks(end.mark, end.axes, rest)), null);
  return marked(roots, rest, all, gap, marks);
}

function startsAlong(bounds: readonly Bounds[], axes: readonly Axis[], trial: Axis): Tensor[] {
  return bounds.map(({ from, to }, unknown) => {
    const [low, high] = [expand(from, axes), expand(to, axes)];
    const data = low.data.map((a, cell) => {
      const start = starts[Math.floor((cell % trial.size) / starts.length ** unknown) % starts.length]!;
      return a + (high.data[cell]! - a) * start;
    });
    return { axes, data, mark: worse(low.mark, high.mark) };
  });
}

/** For every cell the greatest figure of its run of `length` cells; NaN counts for nothing. */
function greatestAlong(data: Float64Array, length: number): Float64Array {
  const out = new Float64Array(data.length);
  for (let start = 0; start < data.length; start += length) {
    let most = 0;
    for (let cell = start; cell < start + length; cell++) if (data[cell]! > most) most = data[cell]!;
    out.fill(most, start, start + length);
  }
  return out;
}

function stateOf(
  bounds: readonly Bounds[],
  begin: readonly Tensor[],
  axes: readonly Axis[],
  residuals: Residuals,
  scales: readonly Float64Array[],
): State {
  const sides = bounds.map(({ from, to }) => [expand(from, axes).data, expand(to, axes).data] as const);
  const least = (a: Float64Array, b: Float64Array): Float64Array => a.map((x, cell) => Math.min(x, b[cell]!));
  return {
    axes,
    count: cellsAlong(axes),
    low: sides.map(([a, b]) => least(a, b)),
    high: sides.map(([a, b]) => a.map((x, cell) => Math.max(x, b[cell]!))),
    x: begin.map(({ data }) => data.slice()),
    residuals: (x) => reached(residuals(x.map((data) => ({ axes, data, mark: null }))), axes, scales),
  };
}

function reached(found: ReturnType<Residuals>, axes: readonly Axis[], scales: readonly Float64Array[]): Reached {
  const gaps = found.map(({ gap }) => expand(gap, axes).data);
  const worst = gaps[0]!.map((_, cell) =>
    Math.max(...gaps.map((gap, at) => (gap[cell] === 0 ? 0 : Math.abs(gap[cell]!) / scales[at]![cell]!))),
  );
  return { gaps, worst };
}

/** Steps until nothing gets better; returns how far each cell's equations are from holding. */
function run(state: State): Float64Array {
  let here = state.residuals(state.x);
  const stuck = here.worst.map((worst) => (worst <= settledGap || Number.isNaN(worst) ? 1 : 0));
  for (let turn = 0; turn < mostTurns && stuck.includes(0); turn++) {
    const steps = newtonSteps(state, here);
    const pending = stuck.map((done, cell) =>
      done === 1 || steps.some((step) => !Number.isFinite(step[cell]!)) ? 1 : 0,
    );
    const before = here.worst;
    let shrink = 1;
    for (let half = 0; half < halvings && pending.includes(0); half++, shrink /= 2) {
      const trial = state.x.map((x, unknown) =>
        x.map((from, cell) => {
          if (pending[cell] === 1) return from;
          const to = from + shrink * steps[unknown]![cell]!;
          return Math.min(Math.max(to, state.low[unknown]![cell]!), state.high[unknown]![cell]!);
        }),
      );
      const there = state.residuals(trial);
      for (let cell = 0; cell < state.count; cell++) {
        if (pending[cell] === 1 || !(there.worst[cell]! < before[cell]!)) continue;
        pending[cell] = 1;
        state.x.forEach((x, unknown) => (x[cell] = trial[unknown]![cell]!));
      }
    }
    here = state.residuals(state.x);
    for (let cell = 0; cell < state.count; cell++) {
      const worst = here.worst[cell]!;
      if (!(worst < before[cell]!) || worst <= settledGap) stuck[cell] = 1;
    }
  }
  return here.worst;
}

/** The step that would make all gaps vanish if the equations were straight. */
function newtonSteps(state: State, here: Reached): readonly Float64Array[] {
  const n = state.x.length;
  const widths = state.x.map((x, unknown) =>
    x.map((at, cell) => {
      const span = nudge * (state.high[unknown]![cell]! - state.low[unknown]![cell]!);
      return at + span > state.high[unknown]![cell]! ? -span : span;
    }),
  );
  const columns = widths.map((width, unknown) => {
    const moved = state.x.map((x, other) => (other === unknown ? x.map((at, cell) => at + width[cell]!) : x));
    return state
      .residuals(moved)
      .gaps.map((gap, equation) => gap.map((figure, cell) => (figure - here.gaps[equation]![cell]!) / width[cell]!));
  });
  const steps = state.x.map(() => new Float64Array(state.count));
  for (let cell = 0; cell < state.count; cell++) {
    const matrix = Array.from({ length: n }, (_, equation) => columns.map((column) => column[equation]![cell]!));
    const solution = gauss(
      matrix,
      here.gaps.map((gap) => -gap[cell]!),
    );
    steps.forEach((step, unknown) => (step[cell] = solution[unknown]!));
  }
  return steps;
}

/** By elimination with the greatest pivot; NaN where the matrix has none. */
function gauss(matrix: number[][], right: number[]): number[] {
  const n = right.length;
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++)
      if (Math.abs(matrix[row]![column]!) > Math.abs(matrix[pivot]![column]!)) pivot = row;
    [matrix[column], matrix[pivot]] = [matrix[pivot]!, matrix[column]!];
    [right[column], right[pivot]] = [right[pivot]!, right[column]!];
    for (let row = column + 1; row < n; row++) {
      const factor = matrix[row]![column]! / matrix[column]![column]!;
      for (let at = column; at < n; at++) matrix[row]![at]! -= factor * matrix[column]![at]!;
      right[row]! -= factor * right[column]!;
    }
  }
  const solution = Array.from({ length: n }, () => Number.NaN);
  for (let row = n - 1; row >= 0; row--) {
    const known = matrix[row]!.reduce((sum, one, at) => (at > row ? sum + one * solution[at]! : sum), 0);
    solution[row] = (right[row]! - known) / matrix[row]![row]!;
  }
  return solution;
}
