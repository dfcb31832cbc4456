/** Choosing one column for every row at the least total cost, each column so often as there is of it. Knows no axes; Infinity: may not be. */

export interface Choice {
  /** The column of each row. */
  readonly columns: Int32Array;
  readonly total: number;
}

/**
 * Exact, by shortest augmenting paths with prices (the method of Kuhn and Munkres as written by Jonker and Volgenant); a column of which
 * there are several stands as often. Null where some row must go without.
 */
export function leastTotal(
  cost: Float64Array,
  rows: number,
  columns: number,
  stock: ArrayLike<number> | null,
): Choice | null {
  const copies: number[] = [];
  for (let column = 0; column < columns; column++) {
    const times = stock === null ? 1 : Math.min(rows, Math.max(0, Math.floor(stock[column]! + 1e-9)));
    for (let time = 0; time < times; time++) copies.push(column);
  }
  if (copies.length < rows) return null;
  const taken = augment((row, copy) => cost[row * columns + copies[copy]!]!, rows, copies.length);
  if (taken === null) return null;
  const chosen = new Int32Array(rows);
  taken.forEach((row, copy) => {
    if (row >= 0) chosen[row] = copies[copy]!;
  });
  let total = 0;
  for (let row = 0; row < rows; row++) total += cost[row * columns + chosen[row]!]!;
  return { columns: chosen, total };
}

/** For each column the row that has it, or -1. */
function augment(costOf: (row: number, column: number) => number, rows: number, columns: number): Int32Array | null {
  const rowPrice = new Float64Array(rows + 1);
  const columnPrice = new Float64Array(columns + 1);
  const holder = new Int32Array(columns + 1).fill(-1);
  for (let row = 0; row < rows; row++) {
    const cheapest = new Float64Array(columns + 1).fill(Infinity);
    const cameFrom = new Int32Array(columns + 1);
    const used = new Uint8Array(columns + 1);
    let column = columns;
    holder[columns] = row;
    while (holder[column] !== -1) {
      used[column] = 1;
      const own = holder[column]!;
      let step = Infinity;
      let next = -1;
      for (let other = 0; other < columns; other++) {
        if (used[other] === 1) continue;
        const reduced = costOf(own, other) - rowPrice[own]! - columnPrice[other]!;
        if (reduced < cheapest[other]!) {
          cheapest[other] = reduced;
          cameFrom[other] = column;
        }
        if (cheapest[other]! < step) {
          step = cheapest[other]!;
          next = other;
        }
      }
      if (next === -1) return null;
      for (let other = 0; other <= columns; other++) {
        if (used[other] === 1) {
          rowPrice[holder[other]!]! += step;
          columnPrice[other]! -= step;
        } else cheapest[other]! -= step;
      }
      column = next;
    }
    while (column !== columns) {
      const from = cameFrom[column]!;
      holder[column] = holder[from]!;
      column = from;
    }
  }
  return holder.subarray(0, columns);
}

/** The choice whose greatest cost less least cost is least; of equal ones that with the least total. */
export function leastSpread(
  cost: Float64Array,
  choose: (within: Float64Array) => Choice | null | 'too many',
): Choice | null | 'too many' {
  const levels = [...new Set(cost)].filter(Number.isFinite).sort((a, b) => a - b);
  let best: Choice | null = null;
  let bestSpread = Infinity;
  let high = 0;
  for (let low = 0; low < levels.length && high < levels.length; low++) {
    high = Math.max(high, low);
    for (; high < levels.length; high++) {
      if (levels[high]! - levels[low]! > bestSpread) break;
      const found = choose(cost.map((one) => (one >= levels[low]! && one <= levels[high]! ? one : Infinity)));
      if (found === 'too many') return found;
      if (found === null) continue;
      const spread = levels[high]! - levels[low]!;
      if (spread < bestSpread || best === null || found.total < best.total) best = found;
      bestSpread = spread;
      break;
    }
  }
  return best;
}
