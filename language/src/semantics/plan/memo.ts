/**
 * What has been worked out, each with what it was worked out from: nothing is worked out twice, and what was worked out
 * for another plan is taken over where all that it was made of is the same object. Meets circles without falling into
 * them and long chains without running out of stack. Knows keys and values; what a key stands for it must not know.
 */
import type { Value } from '../evaluate/value.ts';
import type { PlanProblem } from './outcome.ts';

export interface Made {
  readonly value: Value;
  /** Who speaks, cell by cell; null where nobody in particular does. */
  readonly sources: Int32Array | null;
  /** Why cells are missing, in the order in which it was heard. */
  readonly why: readonly string[];
  /** Slips in the text that showed up; a value with slips is not taken over. */
  readonly problems: readonly PlanProblem[];
}
export interface Node extends Made {
  /** Keys in the order in which they were first read. */
  readonly trace: readonly number[];
  /** False where a circle had to be cut below it: such a value is worked out afresh each time. */
  readonly settled: boolean;
}

/** Says how a key is worked out, and which value of another plan may stand for it. */
export interface Maker {
  make(key: number): Made;
  /** The value to take over if all that it was made of is unchanged. */
  earlier(key: number): Node | null;
  /** What `earlier` was made of: the value then. */
  earlierValue(key: number): Value | null;
  /** A value of the same shape, all missing. */
  nothing(key: number): Made;
  /** Of the keys of a circle, where to cut it: the same wherever the circle was entered. */
  head(circle: readonly number[]): number;
  circle(keys: readonly number[]): void;
  /** From now on the key is worth what was given, without its formula: it stands in too many circles to try them all. */
  withoutFormula(key: number): void;
  /** A key that belongs to another plan, which keeps it itself. */
  foreign(key: number): Value | null;
}

interface Frame {
  readonly key: number;
  trace: Set<number>;
  settled: boolean;
  /** The outermost frame whose unfinished value was read below here. */
  reachesTo: number;
  cutHere: boolean;
}

/** Thrown to start again from less deep, once `key` is worked out. */
class First {
  readonly memo: Memo;
  readonly key: number;
  readonly tooDeep: boolean;
  constructor(memo: Memo, key: number, tooDeep: boolean) {
    this.memo = memo;
    this.key = key;
    this.tooDeep = tooDeep;
  }
}

const deepest = 40;
const mostPending = 100_000;
/** How often a key in circles is worked out anew before its formula is given up. */
const mostTries = 8;

export class Memo {
  private readonly maker: Maker;
  private readonly nodes = new Map<number, Node>();
  private readonly provisional = new Map<number, { readonly node: Node; readonly reachesTo: number }>();
  private readonly frames: Frame[] = [];
  private readonly active = new Map<number, number>();
  private readonly cut = new Set<number>();
  private readonly tries = new Map<number, number>();

  constructor(maker: Maker) {
    this.maker = maker;
  }

  known(key: number): Node | null {
    return this.nodes.get(key) ?? null;
  }

  /**
   * Takes over from an earlier plan's memo whatever rests on nothing but `stands`: those keys are not even looked at
   * again. What was worked out first comes first there, so one walk suffices.
   */
  seed(earlier: Memo, stands: (key: number) => boolean): void {
    for (const [key, node] of earlier.nodes) {
      if (!node.settled || node.problems.length > 0) continue;
      if (stands(key) && node.trace.every((below) => (below < 0 ? stands(below) : this.nodes.has(below))))
        this.nodes.set(key, node);
    }
  }

  /** Slips of all that was worked out. */
  problems(): readonly PlanProblem[] {
    return [...this.nodes.values()].flatMap((node) => node.problems);
  }

  /** All keys that these rest on, themselves among them. */
  under(keys: readonly number[]): ReadonlySet<number> {
    const seen = new Set<number>();
    const left = [...keys];
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      if (seen.has(next)) continue;
      seen.add(next);
      left.push(...(this.nodes.get(next)?.trace ?? []));
    }
    return seen;
  }

  /** Runs `task`, which may call `fetch`, to its end however deep it goes. */
  settle<T>(task: () => T): T {
    if (this.frames.length > 0) return task();
    const pending: number[] = [];
    for (;;) {
      try {
        const top = pending.at(-1);
        if (top === undefined) return task();
        this.fetch(top);
        pending.pop();
      } catch (thrown) {
        if (!(thrown instanceof First) || thrown.memo !== this) throw thrown;
        const round = (thrown.tooDeep && pending.includes(thrown.key)) || pending.length > mostPending;
        if (round) this.giveUp(thrown.key, pending);
        else pending.push(thrown.key);
      }
    }
  }

  /** Only inside `settle`. */
  fetch(key: number): Node {
    const frame = this.frames.at(-1);
    frame?.trace.add(key);
    return this.fetchQuietly(key);
  }

  /** As `fetch`, but what is being worked out does not rest on it. */
  fetchQuietly(key: number): Node {
    const known = this.nodes.get(key);
    if (known !== undefined) {
      if (!known.settled) this.unsettle();
      return known;
    }
    const provisional = this.provisional.get(key);
    if (provisional !== undefined) {
      this.reach(provisional.reachesTo);
      return provisional.node;
    }
    const at = this.active.get(key);
    if (at !== undefined) return this.meetAgain(key, at);
    if (this.frames.length >= deepest) throw new First(this, key, true);
    return this.workOut(key);
  }

  /** Notes that what is being worked out rests on a value that another plan keeps. */
  note(key: number): void {
    this.frames.at(-1)?.trace.add(key);
  }

  /** Evaluates outside of any key, such as the sides of a check: what it read, and whether that is settled. */
  watch<T>(task: () => T): { readonly result: T; readonly trace: readonly number[]; readonly settled: boolean } {
    const frame = open(-1);
    return this.settle(() => {
      frame.trace = new Set();
      this.frames.push(frame);
      try {
        const result = task();
        return { result, trace: [...frame.trace], settled: frame.settled };
      } finally {
        this.frames.pop();
      }
    });
  }

  /** True where all that was read then is the same object now. */
  unchanged(trace: readonly number[]): boolean {
    return trace.every((key) => {
      const then = this.maker.earlierValue(key);
      const foreign = this.maker.foreign(key);
      if (foreign !== null) {
        this.note(key);
        return then === foreign;
      }
      return then !== null && this.fetch(key).value === then;
    });
  }

  private workOut(key: number): Node {
    const index = this.frames.length;
    const frame = open(key);
    if (this.isTooOften(key)) frame.settled = false;
    this.frames.push(frame);
    this.active.set(key, index);
    let made: Made;
    try {
      made = this.takeOver(key, frame) ?? this.maker.make(key);
    } finally {
      this.frames.pop();
      this.active.delete(key);
      if (frame.cutHere) this.provisional.clear();
    }
    const { value, sources, why, problems } = made;
    const node: Node = { value, sources, why, problems, trace: [...frame.trace], settled: frame.settled };
    if (frame.reachesTo < index) {
      this.provisional.set(key, { node, reachesTo: frame.reachesTo });
      this.reach(frame.reachesTo);
    } else this.nodes.set(key, node);
    if (!node.settled) this.unsettle();
    return node;
  }

  private takeOver(key: number, frame: Frame): Made | null {
    const earlier = this.maker.earlier(key);
    if (earlier === null || !earlier.settled) return null;
    if (frame.settled && this.unchanged(earlier.trace)) return earlier;
    frame.trace = new Set();
    return null;
  }

  private isTooOften(key: number): boolean {
    if (this.cut.size === 0) return false;
    const tries = (this.tries.get(key) ?? 0) + 1;
    this.tries.set(key, tries);
    if (tries === mostTries) this.maker.withoutFormula(key);
    return tries >= mostTries;
  }

  private meetAgain(key: number, at: number): Node {
    const circle = this.frames.slice(at).map((frame) => frame.key);
    if (!this.cut.has(key)) {
      const head = this.maker.head(circle);
      this.cut.add(head);
      if (head !== key) throw new First(this, head, false);
    }
    this.maker.circle(circle);
    this.frames[at]!.cutHere = true;
    this.frames[at]!.settled = false;
    this.unsettle();
    this.reach(at);
    return { ...this.maker.nothing(key), trace: [], settled: false };
  }

  private giveUp(key: number, pending: readonly number[]): void {
    this.maker.circle(pending.slice(Math.max(0, pending.indexOf(key))));
    this.nodes.set(key, { ...this.maker.nothing(key), trace: [], settled: false });
  }

  private reach(to: number): void {
    const frame = this.frames.at(-1);
    if (frame !== undefined) frame.reachesTo = Math.min(frame.reachesTo, to);
  }

  private unsettle(): void {
    const frame = this.frames.at(-1);
    if (frame !== undefined) frame.settled = false;
  }
}

function open(key: number): Frame {
  return { key, trace: new Set(), settled: true, reachesTo: Infinity, cutHere: false };
}
