// From figures to places on paper: round marks along an axis, and a straight scale.
import { fixed } from '../number/format.ts';

const roundSteps = [1, 2, 2.5, 5, 10];

/** Round figures from at or below the least to at or above the greatest, about so many. */
export function roundMarks(least: number, greatest: number, about = 6): number[] {
  const span = greatest > least ? greatest - least : Math.max(Math.abs(least), 1) * 0.1;
  const [low, high] = greatest > least ? [least, greatest] : [least - span / 2, greatest + span / 2];
  const raw = span / about;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = roundSteps.find((one) => one * power >= raw * (1 - 1e-9))! * power;
  const first = Math.floor(low / step + 1e-9);
  const last = Math.ceil(high / step - 1e-9);
  return Array.from({ length: last - first + 1 }, (_, at) => Number(((first + at) * step).toPrecision(12)));
}

/** As many decimals as tell these figures apart. */
export function decimalsFor(marks: readonly number[]): number {
  for (let decimals = 0; decimals < 9; decimals++)
    if (marks.every((mark) => Math.abs(Number(fixed(mark, decimals)) - mark) <= 1e-9 * Math.max(1e-6, Math.abs(mark))))
      return decimals;
  return 9;
}

export function scale(from: number, to: number, start: number, end: number): (figure: number) => number {
  const span = to - from || 1;
  return (figure) => start + ((figure - from) / span) * (end - start);
}
