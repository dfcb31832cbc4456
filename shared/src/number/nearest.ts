// The names nearest to a mistyped one, for every "did you mean". Knows nothing of what the names stand for.

const longestWord = 64;

/** Damerau–Levenshtein distance (adjacent swaps count one), no piece edited twice. */
export function distance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const now = [row];
    for (let column = 1; column <= b.length; column++) {
      const same = a[row - 1] === b[column - 1];
      let least = Math.min(last[column]! + 1, now[column - 1]! + 1, last[column - 1]! + (same ? 0 : 1));
      const swapped = row > 1 && column > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1];
      if (swapped) least = Math.min(least, beforeLast[column - 2]! + 1);
      now.push(least);
    }
    beforeLast = last;
    last = now;
  }
  return last[b.length]!;
}

/** How far off a name may be and still be meant: one slip in a short word, a third of a long one. */
function reach(word: string): number {
  return Math.max(1, Math.floor(word.length / 3));
}

/** The candidates most like `word`, best first. Another case of the same letters counts as the smallest slip. */
export function nearest(word: string, candidates: Iterable<string>, most = 3): string[] {
  if (word.length > longestWord) return [];
  const small = word.toLowerCase();
  const found: { name: string; far: number }[] = [];
  for (const name of new Set(candidates)) {
    if (name === word || Math.abs(name.length - word.length) > reach(word)) continue;
    const folded = distance(small, name.toLowerCase());
    if (folded > reach(word) || folded >= Math.max(word.length, name.length)) continue;
    found.push({ name, far: folded + distance(word, name) / 1000 });
  }
  found.sort((a, b) => a.far - b.far || (a.name < b.name ? -1 : 1));
  return found.slice(0, most).map(({ name }) => name);
}
