/**
 * Which of many named things leads to which: those in a circle, and how much one of them unfolds to.
 * Knows only names and arrows. Nothing here recurses, so that chains may be long.
 */
export interface Unfolded {
  /** Itself and all that it leads to, each as often as it is met; counted no further than `most` + 1. */
  readonly size: number;
  readonly depth: number;
}

export class Graph {
  private readonly arrows: ReadonlyMap<string, readonly string[]>;
  private readonly circular: ReadonlySet<string>;
  private readonly unfolded: ReadonlyMap<string, Unfolded>;

  /** An arrow between two things of one circle is left out when sizes are counted, and so is what is too large itself. */
  constructor(arrows: ReadonlyMap<string, readonly string[]>, most: { readonly size: number; readonly depth: number }) {
    this.arrows = arrows;
    const leading = new Set(arrows.keys());
    trim(leading, arrows);
    trim(leading, reversed(arrows));
    this.circular = leading;
    this.unfolded = unfold(arrows, leading, most);
  }

  isCircular(name: string): boolean {
    return this.circular.has(name);
  }

  unfoldedOf(name: string): Unfolded {
    return this.unfolded.get(name) ?? { size: 1, depth: 1 };
  }

  /** The names on the shortest way from one to another, both included; null where none leads there. */
  way(from: string, to: string): string[] | null {
    const cameFrom = new Map<string, string | null>([[from, null]]);
    for (const at of cameFrom.keys()) {
      if (at === to) break;
      for (const next of this.arrows.get(at) ?? []) if (!cameFrom.has(next)) cameFrom.set(next, at);
    }
    if (!cameFrom.has(to)) return null;
    const way: string[] = [];
    for (let at: string | null = to; at !== null; at = cameFrom.get(at) ?? null) way.unshift(at);
    return way;
  }
}

/** Takes away, again and again, what leads to nothing that is left. */
function trim(left: Set<string>, arrows: ReadonlyMap<string, readonly string[]>): void {
  for (const name of inOrder(left, arrows)) left.delete(name);
}

/** Each after all that it leads to; what leads into a circle is not among them. */
function inOrder(names: ReadonlySet<string>, arrows: ReadonlyMap<string, readonly string[]>): string[] {
  const leadingHere = reversed(arrows);
  const waiting = new Map(
    [...names].map((name) => [name, (arrows.get(name) ?? []).filter((next) => names.has(next)).length]),
  );
  const order = [...names].filter((name) => waiting.get(name) === 0);
  for (const name of order) {
    for (const from of leadingHere.get(name) ?? []) {
      const left = (waiting.get(from) ?? 0) - 1;
      waiting.set(from, left);
      if (left === 0) order.push(from);
    }
  }
  return order;
}

function reversed(arrows: ReadonlyMap<string, readonly string[]>): Map<string, string[]> {
  const back = new Map<string, string[]>([...arrows.keys()].map((name) => [name, []]));
  for (const [from, all] of arrows) for (const to of all) back.get(to)?.push(from);
  return back;
}

function unfold(
  arrows: ReadonlyMap<string, readonly string[]>,
  circular: ReadonlySet<string>,
  most: { readonly size: number; readonly depth: number },
): Map<string, Unfolded> {
  const open = new Map(
    [...arrows].map(([name, all]) => [name, circular.has(name) ? all.filter((next) => !circular.has(next)) : all]),
  );
  const unfolded = new Map<string, Unfolded>();
  for (const name of inOrder(new Set(open.keys()), open)) {
    let [size, depth] = [1, 1];
    for (const next of open.get(name) ?? []) {
      const below = unfolded.get(next);
      if (!below || below.size > most.size || below.depth > most.depth) continue;
      size = Math.min(size + below.size, most.size + 1);
      depth = Math.max(depth, below.depth + 1);
    }
    unfolded.set(name, { size, depth });
  }
  return unfolded;
}
