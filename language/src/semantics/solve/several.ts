/** Several equations in as many steps: damped Newton from where things stand, slopes by small steps beside each other. Knows numbers only. */

/** Steps beside each other in; what is left to each goal out. */
type Left = (steps: readonly (readonly number[])[]) => readonly (readonly number[])[];

const mostTurns = 40;
const dampings = [1, 0.5, 0.25, 0.125, 0.03, 0.005];
/** Of the first distance from the goals. */
const settled = 1e-9;

/** `least`: the finest step of each, `most`: how far each may go. Null where no steps bring all goals about. */
export function newtonSteps(left: Left, least: readonly number[], most: readonly number[]): readonly number[] | null {
  let at: readonly number[] = least.map(() => 0);
  let gaps = left([at])[0]!;
  const scale = scalesOf(left, at, gaps, least);
  const far = (some: readonly number[]): number => Math.hypot(...some.map((gap, goal) => gap / scale[goal]!));
  const first = Math.max(far(gaps), 1);
  for (let turn = 0; turn < mostTurns; turn++) {
    if (!Number.isFinite(far(gaps))) return null;
    if (far(gaps) <= settled * first) return at;
    const slopes = left(least.map((nudge, one) => at.map((step, other) => (other === one ? step + nudge : step))));
    const rows = gaps.map((gap, goal) => slopes.map((moved) => moved[goal]! - gap));
    const way = solved(rows, gaps);
    if (way === null) return null;
    const tries = dampings.map((damping) =>
      at.map((step, one) => Math.min(most[one]!, Math.max(-most[one]!, step - damping * way[one]! * least[one]!))),
    );
    const reached = left(tries);
    const better = reached.findIndex((some) => far(some) < far(gaps) * 0.999);
    if (better < 0) return far(gaps) <= 1e-6 * first ? at : null;
    [at, gaps] = [tries[better]!, reached[better]!];
  }
  return far(gaps) <= 1e-6 * first ? at : null;
}

/** What each goal moves by at one finest step of everything: the size in which its distance counts. */
function scalesOf(left: Left, at: readonly number[], gaps: readonly number[], least: readonly number[]): number[] {
  const nudged = left(least.map((nudge, one) => at.map((step, other) => (other === one ? step + nudge : step))));
  return gaps.map((gap, goal) => {
    const size = Math.max(...nudged.map((moved) => Math.abs(moved[goal]! - gap)));
    return size > 0 ? size : 1;
  });
}

/** Gauss with the largest pivot; null where the equations do not settle the unknowns. */
function solved(rows: readonly (readonly number[])[], rights: readonly number[]): number[] | null {
  const size = rights.length;
  const table = rows.map((row, at) => {
    const scale = Math.max(...row.map(Math.abs), Number.MIN_VALUE);
    return [...row.map((one) => one / scale), rights[at]! / scale];
  });
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++)
      if (Math.abs(table[row]![column]!) > Math.abs(table[pivot]![column]!)) pivot = row;
    [table[column], table[pivot]] = [table[pivot]!, table[column]!];
    const head = table[column]![column]!;
    if (!Number.isFinite(head) || Math.abs(head) < 1e-12) return null;
    for (let row = 0; row < size; row++) {
      if (row === column) continue;
      const times = table[row]![column]! / head;
      for (let at = column; at <= size; at++) table[row]![at]! -= times * table[column]![at]!;
    }
  }
  return table.map((row, at) => row[size]! / row[at]!);
}
