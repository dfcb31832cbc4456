/** Two columns for every row (a pair), each drawn from stock: exact, by trying the cheapest pairs first and giving up what cannot be better. */
import type { Choice } from './assignment.ts';
import { mostBranches } from './limits.ts';

interface Option {
  readonly pair: number;
  readonly first: number;
  readonly second: number;
  readonly cost: number;
}

/**
 * Cost by row, first column, second column. One stock serves both halves where `shared`; otherwise `first` and `second` have their own.
 * 'too many' where the search would take too long.
 */
export function leastPairs(
  cost: Float64Array,
  rows: number,
  columns: readonly [number, number],
  stock: { readonly first: Float64Array; readonly second: Float64Array; readonly shared: boolean },
): Choice | null | 'too many' {
  const [across, down] = columns;
  const options = Array.from({ length: rows }, (_, row) => optionsOf(cost, row, across, down));
  if (options.some((own) => own.length === 0)) return null;
  const order = options.map((_, row) => row).sort((a, b) => options[a]!.length - options[b]!.length || a - b);
  const rest = new Float64Array(rows + 1);
  for (let at = rows - 1; at >= 0; at--) rest[at] = rest[at + 1]! + options[order[at]!]![0]!.cost;
  const left = { first: stock.first.slice(), second: stock.shared ? null : stock.second.slice() };
  const second = left.second ?? left.first;
  const chosen = new Int32Array(rows);
  let best: Choice | null = null;
  let branches = 0;
  const from = (at: number, total: number): boolean => {
    if (at === rows) {
      best = { columns: chosen.slice(), total };
      return true;
    }
    for (const option of options[order[at]!]!) {
      if (best !== null && !(total + option.cost + rest[at + 1]! < best.total - 1e-12 * Math.abs(best.total))) break;
      if (++branches > mostBranches) return false;
      left.first[option.first]!--;
      second[option.second]!--;
      const enough = left.first[option.first]! > -1e-9 && second[option.second]! > -1e-9;
      chosen[order[at]!] = option.pair;
      const went = !enough || from(at + 1, total + option.cost);
      left.first[option.first]!++;
      second[option.second]!++;
      if (!went) return false;
    }
    return true;
  };
  return from(0, 0) ? best : 'too many';
}

/** Cheapest first; of equal ones those of like halves, then in the order in which they stand. */
function optionsOf(cost: Float64Array, row: number, across: number, down: number): Option[] {
  const options: Option[] = [];
  for (let first = 0; first < across; first++) {
    for (let second = 0; second < down; second++) {
      const pair = first * down + second;
      const own = cost[row * across * down + pair]!;
      if (own < Infinity) options.push({ pair, first, second, cost: own });
    }
  }
  const mixed = ({ first, second }: Option): number => (first === second ? 0 : 1);
  return options.sort((a, b) => a.cost - b.cost || mixed(a) - mixed(b) || a.pair - b.pair);
}
