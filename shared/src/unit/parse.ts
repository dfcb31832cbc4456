// Reads a unit as it is written, `lbf/in`, `in^3`, `W/(m*K)`, into factors. Knows no table: single symbols are looked up.
import { caps } from '../limits.ts';

/** One symbol raised to a whole power, and where it stands in the text. */
export interface Factor {
  readonly name: string;
  readonly power: number;
  readonly start: number;
}

export type Malformed = {
  readonly problem: 'malformed';
  readonly start: number;
  /** `mixed`: `a/b*c` could be read two ways; `suggestion` has the brackets. */
  readonly reason: 'empty' | 'too-long' | 'stray' | 'unclosed' | 'power' | 'mixed' | 'too-large';
  readonly suggestion?: string;
};

const name = /[\p{L}\p{Sc}°%](?:[\p{L}\p{Sc}°%0-9]|-(?=\p{L}))*/uy;
const exponent = /\^([+-]?\d+)|([⁻]?[⁰¹²³⁴-⁹]+)/uy;
const superscripts = '⁰¹²³⁴⁵⁶⁷⁸⁹';

const degrees = new Map([
  ['°', 'deg'],
  ['°C', 'degC'],
  ['°F', 'degF'],
]);

/** The one spelling of a symbol: `°C` is degC, `°` is deg, a leading micro sign of either code is u. */
function canonicalName(written: string): string {
  return degrees.get(written) ?? written.replace(/^[µμ]/u, 'u');
}

class Stop extends Error {
  readonly problem: Malformed;
  constructor(problem: Malformed) {
    super(problem.reason);
    this.problem = problem;
  }
}

/** The factors of a unit in the order written, or what is wrong with it and where. */
export function readFactors(text: string): readonly Factor[] | Malformed {
  if (text.trim() === '') return { problem: 'malformed', reason: 'empty', start: 0 };
  if (text.length > caps.unitLength) return { problem: 'malformed', reason: 'too-long', start: caps.unitLength };
  try {
    return new Reader(text).all();
  } catch (stop) {
    if (stop instanceof Stop) return stop.problem;
    throw stop;
  }
}

class Reader {
  readonly #text: string;
  #at = 0;

  constructor(text: string) {
    this.#text = text;
  }

  all(): readonly Factor[] {
    const factors = this.#product();
    if (this.#at < this.#text.length) throw this.#stop('stray');
    return factors;
  }

  #product(): Factor[] {
    const factors = [...this.#powered()];
    let firstDivision = -1;
    for (let sign = this.#sign(); sign !== null; sign = this.#sign()) {
      if (sign === '*' && firstDivision >= 0) throw this.#mixed(firstDivision);
      this.#at++;
      if (sign === '/' && firstDivision < 0) firstDivision = this.#at;
      const next = this.#powered();
      factors.push(...(sign === '/' ? next.map((factor) => ({ ...factor, power: -factor.power })) : next));
    }
    return factors;
  }

  #sign(): '*' | '/' | null {
    const here = this.#text[this.#at];
    if (here === '*' || here === '·' || here === '⋅') return '*';
    return here === '/' ? '/' : null;
  }

  #powered(): readonly Factor[] {
    const base = this.#base();
    const power = this.#power();
    return power === 1 ? base : base.map((factor) => ({ ...factor, power: this.#bounded(factor.power * power) }));
  }

  #base(): readonly Factor[] {
    const start = this.#at;
    if (this.#text[start] === '(') {
      this.#at++;
      const inside = this.#product();
      if (this.#text[this.#at] !== ')') throw this.#stop(this.#at < this.#text.length ? 'stray' : 'unclosed');
      this.#at++;
      return inside;
    }
    // The figure 1 stands only where there is nothing to write above the line.
    if (this.#text[start] === '1' && !/[0-9.]/.test(this.#text[start + 1] ?? '')) {
      this.#at++;
      return [];
    }
    name.lastIndex = start;
    const found = name.exec(this.#text);
    if (!found) throw this.#stop('stray');
    this.#at = name.lastIndex;
    return [{ name: canonicalName(found[0]), power: 1, start }];
  }

  #power(): number {
    exponent.lastIndex = this.#at;
    const found = exponent.exec(this.#text);
    if (!found) {
      if (this.#text[this.#at] === '^') throw this.#stop('power');
      return 1;
    }
    const digits = found[1] ?? [...found[2]!].map((c) => (c === '⁻' ? '-' : superscripts.indexOf(c))).join('');
    const power = this.#bounded(Number(digits));
    this.#at = exponent.lastIndex;
    return power;
  }

  #bounded(power: number): number {
    if (power === 0 || Math.abs(power) > caps.unitPower) throw this.#stop('power');
    return power;
  }

  #mixed(divisor: number): Stop {
    const [before, after] = [this.#text.slice(0, divisor), this.#text.slice(divisor)];
    const whole = !/[()]/.test(this.#text) && !after.includes('/');
    return new Stop({
      problem: 'malformed',
      reason: 'mixed',
      start: this.#at,
      ...(whole ? { suggestion: `${before}(${after})` } : {}),
    });
  }

  #stop(reason: Malformed['reason']): Stop {
    return new Stop({ problem: 'malformed', reason, start: this.#at });
  }
}
