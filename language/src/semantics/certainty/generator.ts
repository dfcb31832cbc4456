/**
 * Chance that can be repeated: xoshiro128** 1.1 (D. Blackman, S. Vigna, "Scrambled linear pseudorandom number generators", 2018; given to
 * the public domain), its state filled by the finisher of MurmurHash3 (A. Appleby, public domain) over a Weyl sequence. Knows no figures.
 */

/** One stream of chance; two with different names do not run together. */
export class Generator {
  private a: number;
  private b: number;
  private c: number;
  private d: number;

  constructor(state: readonly [number, number, number, number]) {
    [this.a, this.b, this.c, this.d] = state;
  }

  /** The stream of one name under a seed: the same whoever else draws. */
  static of(seed: number, name: string): Generator {
    let hash = 0x811c9dc5 ^ finished((seed + 0x9e3779b9) | 0);
    for (let at = 0; at < name.length; at++) hash = Math.imul(hash ^ name.charCodeAt(at), 0x01000193);
    const next = (): number => {
      hash = (hash + 0x9e3779b9) | 0;
      return finished(hash);
    };
    return new Generator([next(), next(), next(), next() | 1]);
  }

  /** 32 bits, as an unsigned whole number. */
  bits(): number {
    const { b } = this;
    const turned = Math.imul(b, 5);
    const out = Math.imul((turned << 7) | (turned >>> 25), 9) >>> 0;
    this.c ^= this.a;
    this.d ^= b;
    this.b ^= this.c;
    this.a ^= this.d;
    this.c ^= b << 9;
    this.d = (this.d << 11) | (this.d >>> 21);
    return out;
  }

  /** Between 0 and 1, neither of them ever. */
  fraction(): number {
    return (this.bits() + 0.5) / 4294967296;
  }
}

function finished(word: number): number {
  let mixed = Math.imul(word ^ (word >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return mixed ^ (mixed >>> 16);
}
