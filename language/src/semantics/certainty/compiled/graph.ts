/**
 * What is reckoned for every trial, one step at a time: figures by number, each made of earlier ones. Equal steps are one step; what rests on
 * constants alone is worked out here and now. Steps are made only from the closed list below: no text of a file ever comes into the code.
 */

/** Two figures that are none: nothing reckoned with them is one either. */
export const missing = 0;
export const absent = 1;
export type Ref = number;

/** What the steps below may call; what has no real figure is NaN. */
const helpers = {
  finite: (x: number): number => (x - x === 0 ? x : NaN),
  /** 1, 0, or NaN where one of both is none; `r` of the size of the greater is still met. */
  atMost: (a: number, b: number, r: number): number =>
    a <= b || a - b <= r * Math.max(Math.abs(a), Math.abs(b)) ? 1 : a === a && b === b ? 0 : NaN,
  same: (a: number, b: number, r: number): number =>
    Math.abs(a - b) <= r * Math.max(Math.abs(a), Math.abs(b)) ? 1 : a === a && b === b ? 0 : NaN,
};

/** Each step as JavaScript over `a`, `b`, `c`. */
const steps = {
  add: 'a + b',
  subtract: 'a - b',
  multiply: 'a * b',
  divide: '(b === 0 ? NaN : a / b)',
  divideByConstant: 'a / b',
  square: 'a * a',
  cube: 'a * a * a',
  power: 'finite(a ** b)',
  negate: '-a',
  not: '1 - a',
  abs: 'Math.abs(a)',
  sign: 'Math.sign(a)',
  sqrt: 'Math.sqrt(a)',
  exp: 'finite(Math.exp(a))',
  log: 'finite(Math.log(a))',
  log10: 'finite(Math.log10(a))',
  sin: 'Math.sin(a)',
  cos: 'Math.cos(a)',
  tan: 'Math.tan(a)',
  asin: 'Math.asin(a)',
  acos: 'Math.acos(a)',
  atan: 'Math.atan(a)',
  atan2: 'Math.atan2(a, b)',
  hypot: 'Math.hypot(a, b)',
  largest: 'Math.max(a, b)',
  smallest: 'Math.min(a, b)',
  atMost: 'atMost(a, b, c)',
  same: 'same(a, b, c)',
  and: '(a === 0 || b === 0 ? 0 : a === a && b === b ? 1 : NaN)',
  or: '(a === 1 || b === 1 ? 1 : a === a && b === b ? 0 : NaN)',
  choose: '(a === 0 ? c : a === a ? b : NaN)',
} as const;
export type Step = keyof typeof steps;

export interface Made {
  /** Null: a figure that is drawn, or a constant. */
  readonly step: Step | null;
  readonly args: readonly Ref[];
  /** NaN for what is not constant. */
  readonly constant: number;
}

export class Graph {
  readonly made: Made[] = [];
  private readonly known = new Map<string, Ref>();
  private readonly folded = new Map<Step, (a: number, b: number, c: number) => number>();

  constructor() {
    this.made.push({ step: null, args: [], constant: NaN }, { step: null, args: [], constant: NaN });
  }

  constant(figure: number): Ref {
    if (Number.isNaN(figure)) return missing;
    return this.keep(`${Object.is(figure, -0) ? '-0' : figure}`, { step: null, args: [], constant: figure });
  }

  /** Drawn anew in every trial. */
  drawn(): Ref {
    this.made.push({ step: null, args: [], constant: NaN });
    return this.made.length - 1;
  }

  isConstant(ref: Ref): boolean {
    return ref <= absent || !Number.isNaN(this.made[ref]!.constant);
  }

  figure(ref: Ref): number {
    return this.made[ref]!.constant;
  }

  /** What has no figure takes away that of the whole; only `choose` may leave it aside. */
  step(step: Step, ...args: readonly Ref[]): Ref {
    if (step !== 'choose') {
      if (args.includes(absent)) return absent;
      if (args.includes(missing)) return missing;
    } else if (args[0]! <= absent) return args[0]!;
    if (args.every((ref) => this.isConstant(ref))) {
      const [a, b, c] = args.map((ref) => this.figure(ref));
      return this.constant(this.fold(step)(a!, b!, c!));
    }
    const made =
      step === 'divide' && this.isConstant(args[1]!) && this.figure(args[1]!) !== 0 ? 'divideByConstant' : step;
    return this.keep(`${made} ${args.join(' ')}`, { step: made, args, constant: NaN });
  }

  private keep(key: string, made: Made): Ref {
    const known = this.known.get(key);
    if (known !== undefined) return known;
    this.made.push(made);
    this.known.set(key, this.made.length - 1);
    return this.made.length - 1;
  }

  private fold(step: Step): (a: number, b: number, c: number) => number {
    const known =
      this.folded.get(step) ??
      (functionOf(['a', 'b', 'c'], `return ${steps[step]};`) as (a: number, b: number, c: number) => number);
    this.folded.set(step, known);
    return known;
  }
}

/** A function over the helpers. Throws where functions may not be made at run time. */
export function functionOf(parameters: readonly string[], body: string): (...args: readonly never[]) => unknown {
  const { finite, atMost, same } = helpers;
  // oxlint-disable-next-line no-implied-eval, no-new-func -- made of the closed list above and of numbers alone
  const make = new Function('finite', 'atMost', 'same', `return function (${parameters.join(', ')}) { ${body} };`);
  return (make as (...args: unknown[]) => (...args: readonly never[]) => unknown)(finite, atMost, same);
}

/** The step with its operands in their places. */
export function codeOf(step: Step, operands: readonly string[]): string {
  const [a, b, c] = operands;
  return steps[step].replaceAll(/\b[abc]\b/g, (name) => (name === 'a' ? a! : name === 'b' ? b! : c!));
}
