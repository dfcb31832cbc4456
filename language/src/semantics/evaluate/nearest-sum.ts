/** `nearest-sum`: how many of each size come nearest to a target. All ways are tried; of equal ones the fewest pieces, then the first sizes. */
import type { NearestSum } from '../ir.ts';
import { expand, unionAxes, unionOf } from './broadcast.ts';
import type { Frame } from './frame.ts';
import { mostSums } from './limits.ts';
import { cellsAlong, markAt, numbers, tidyMarks, worse } from './tensor.ts';
import { Mark } from './value.ts';
import type { Numbers } from './value.ts';

/** `at-most` along the sizes' axis: so many of each; otherwise so many in all. */
export function evaluateNearestSum(expr: NearestSum, frame: Frame): Numbers {
  const inside = frame.settled([expr.axis]);
  const [sizes, target, most] = [inside.tensor(expr.sizes), inside.tensor(expr.target), inside.tensor(expr.atMost)];
  const axis = inside.axis(expr.axis);
  const each = most.axes.includes(axis);
  const rest = unionOf([sizes.axes, target.axes, most.axes]).filter((one) => one !== axis);
  const axes = unionAxes(rest, [axis]);
  const [size, aim, cap] = [expand(sizes, axes), expand(target, axes), expand(most, axes)];
  const mark = worse(worse(size.mark, aim.mark), cap.mark);
  const data = new Float64Array(cellsAlong(axes)).fill(NaN);
  const marks = new Uint8Array(data.length);
  for (let start = 0; start < data.length; start += axis.size) {
    const there = Array.from({ length: axis.size }, (_, place) => start + place).filter(
      (cell) => markAt(mark, cell) !== Mark.absent,
    );
    const worst = there.reduce(
      (most, cell) => Math.max(most, markAt(mark, cell)),
      there.length === 0 ? Mark.absent : Mark.exact,
    );
    for (let place = 0; place < axis.size; place++) marks[start + place] = Math.max(worst, markAt(mark, start + place));
    if (worst >= Mark.missing) continue;
    const caps = there.map((cell) => Math.floor(cap.data[cell]! + 1e-9));
    const limit = each
      ? { each: caps, total: caps.reduce((a, b) => a + b, 0) }
      : { each: caps.map(() => caps[0]!), total: caps[0]! };
    const counts = nearest(
      there.map((cell) => size.data[cell]!),
      aim.data[start]!,
      limit.each,
      limit.total,
    );
    if (counts === null) {
      frame.missing(`there are more than ${mostSums} ways to add these sizes up`, expr.at);
      for (const cell of there) marks[cell] = Mark.missing;
    } else there.forEach((cell, at) => (data[cell] = counts[at]!));
  }
  return numbers({ axes, data, mark: tidyMarks(marks) });
}

/** Null where there are too many ways to try. */
export function nearest(
  sizes: readonly number[],
  target: number,
  each: readonly number[],
  total: number,
): number[] | null {
  let ways = 0;
  let best: number[] = [];
  let bestGap = Infinity;
  let bestPieces = Infinity;
  const counts = sizes.map(() => 0);
  const within = 1e-12 * sizes.reduce((most, size) => Math.max(most, Math.abs(size)), Math.abs(target));
  const from = (at: number, sum: number, pieces: number): boolean => {
    if (at === sizes.length) {
      const gap = Math.abs(sum - target);
      if (gap < bestGap - within || (gap <= bestGap + within && pieces < bestPieces)) {
        best = counts.slice();
        bestGap = gap;
        bestPieces = pieces;
      }
      return ++ways <= mostSums;
    }
    for (let count = 0; count <= each[at]! && pieces + count <= total; count++) {
      counts[at] = count;
      if (!from(at + 1, sum + count * sizes[at]!, pieces + count)) return false;
    }
    counts[at] = 0;
    return true;
  };
  return from(0, 0, 0) ? best : null;
}
