/** What many trials say about one figure: mean, standard deviation, and the intervals that hold a share of them. Trials without a figure are left out. */

export interface Interval {
  readonly low: number;
  readonly high: number;
}

export interface Summary {
  /** How many trials had a figure here. */
  readonly count: number;
  readonly mean: number;
  /** With n − 1 below. NaN for fewer than two. */
  readonly deviation: number;
  /** As much below as above; NaN where no trial has a figure. */
  readonly percentiles: Interval;
  readonly shortest: Interval;
}

/** Source: JCGM 101:2008, 7.6 and 7.7 (mean and standard deviation, the probabilistically symmetric and the shortest interval). */
export function summaryOf(figures: Float64Array, share = 0.95): Summary {
  const sorted = figures.filter((figure) => !Number.isNaN(figure)).sort();
  const count = sorted.length;
  const mean = meanOf(sorted);
  let squares = 0;
  for (const figure of sorted) squares += (figure - mean) ** 2;
  const deviation = count < 2 ? NaN : Math.sqrt(squares / (count - 1));
  return { count, mean, deviation, percentiles: percentiles(sorted, share), shortest: shortest(sorted, share) };
}

function meanOf(figures: Float64Array): number {
  if (figures.length === 0) return NaN;
  // from the first on, so that a small spread about a large figure keeps its digits
  const start = figures[0]!;
  let sum = 0;
  for (const figure of figures) sum += figure - start;
  return start + sum / figures.length;
}

/** How many steps apart the ends of an interval lie that holds the share. */
function stepsFor(count: number, share: number): number {
  return Math.min(count - 1, Math.floor(share * count + 0.5));
}

function percentiles(sorted: Float64Array, share: number): Interval {
  if (sorted.length === 0) return { low: NaN, high: NaN };
  const steps = stepsFor(sorted.length, share);
  const from = Math.max(0, Math.ceil((sorted.length - steps) / 2) - 1);
  return { low: sorted[from]!, high: sorted[from + steps]! };
}

function shortest(sorted: Float64Array, share: number): Interval {
  if (sorted.length === 0) return { low: NaN, high: NaN };
  const steps = stepsFor(sorted.length, share);
  let best = 0;
  for (let from = 1; from + steps < sorted.length; from++)
    if (sorted[from + steps]! - sorted[from]! < sorted[best + steps]! - sorted[best]!) best = from;
  return { low: sorted[best]!, high: sorted[best + steps]! };
}
