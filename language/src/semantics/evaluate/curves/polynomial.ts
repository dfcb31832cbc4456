/** Real roots of polynomials between 0 and 1, by the roots of their derivatives. */

/** Coefficients of powers from 0 up. Roots in order; none for a polynomial that is zero throughout. */
export function rootsInUnit(coefficients: ArrayLike<number>): number[] {
  const p = Array.from(coefficients);
  while (p.length > 0 && p[p.length - 1] === 0) p.pop();
  if (p.length < 2) return [];
  if (p.length === 2) {
    const t = -p[0]! / p[1]!;
    return t >= 0 && t <= 1 ? [t] : [];
  }
  const turns = rootsInUnit(p.slice(1).map((one, at) => one * (at + 1)));
  const points = [0, ...turns, 1];
  const roots: number[] = [];
  for (let at = 0; at + 1 < points.length; at++) {
    const [from, to] = [points[at]!, points[at + 1]!];
    const [a, b] = [valueAt(p, from), valueAt(p, to)];
    if (a === 0 && roots[roots.length - 1] !== from) roots.push(from);
    if ((a < 0 && b > 0) || (a > 0 && b < 0)) roots.push(bisected(p, from, to, a));
    if (b === 0 && at + 2 === points.length) roots.push(to);
  }
  return roots;
}

function valueAt(p: readonly number[], t: number): number {
  let sum = 0;
  for (let at = p.length - 1; at >= 0; at--) sum = sum * t + p[at]!;
  return sum;
}

/** To the last bit: the polynomial is monotone between `from` and `to`. */
function bisected(p: readonly number[], from: number, to: number, atFrom: number): number {
  let [low, high] = [from, to];
  for (let turn = 0; turn < 1100 && high - low > Number.EPSILON * high; turn++) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    const value = valueAt(p, middle);
    if (value === 0) return middle;
    if (value < 0 === atFrom < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
