/**
 * Where a function of one figure comes to nought: a bracket is looked for outwards from where things stand, many candidates at once, then
 * narrowed by the ITP method (Oliveira and Takahashi 2020: never slower than halving, mostly much faster).
 */

/** Values at many candidates; NaN where there is none. */
export type Together = (candidates: readonly number[]) => readonly number[];

export interface Bracket {
  /** Nearer to the start: not enough. */
  readonly near: number;
  /** Further away: enough. */
  readonly far: number;
}

/** The first of the candidates, which go outwards, at which `f` is not below nought, with the one before it. */
export function firstEnough(f: Together, start: number, outwards: readonly number[]): Bracket | null {
  const values = f(outwards);
  let near = start;
  for (const [at, value] of values.entries()) {
    if (value >= 0) return { near, far: outwards[at]! };
    near = outwards[at]!;
  }
  return null;
}

const mostRuns = 60;

/** A figure within `exact` of the root, on the side where `f` is not below nought. */
export function narrowed(f: (x: number) => number, { near, far }: Bracket, exact: number): number {
  let [a, b] = [near, far];
  let [below, above] = [f(a), f(b)];
  if (!(below < 0)) below = -1;
  const half = Math.ceil(Math.log2(Math.max(Math.abs(b - a) / exact, 2)));
  for (let run = 0; run < mostRuns && Math.abs(b - a) > exact; run++) {
    const x = tryAt(a, b, below, above, exact, half, run);
    const value = f(x);
    if (value >= 0) [b, above] = [x, value];
    else [a, below] = [x, Number.isNaN(value) ? below : value];
  }
  return b;
}

/** Interpolate, truncate towards the middle, project near the middle. */
function tryAt(a: number, b: number, below: number, above: number, exact: number, half: number, run: number): number {
  const middle = (a + b) / 2;
  const width = Math.abs(b - a);
  const reach = exact * 2 ** (half + 1 - run) - width / 2;
  const straight = (above * a - below * b) / (above - below);
  const towards = Math.sign(middle - straight);
  const cut = Math.min((0.2 * width * width) / Math.max(Math.abs(b - a), exact), Math.abs(middle - straight));
  const truncated = straight + towards * cut;
  const projected =
    Math.abs(truncated - middle) <= Math.max(reach, 0) ? truncated : middle - towards * Math.max(reach, 0);
  const inside = projected > Math.min(a, b) && projected < Math.max(a, b);
  return inside ? projected : middle;
}
