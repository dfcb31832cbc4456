/** The word that is being written in its path: other words are put there and tried. */
import type * as ast from '../../grammar/generated/ast.ts';
import type { Trial } from './trial.ts';

/** The place of the word in its path; other words can be put there. */
export class Place {
  readonly ref: ast.Ref;
  readonly at: number;
  readonly before: readonly ast.RefStep[];
  private readonly word: ast.RefStep;

  constructor(ref: ast.Ref, at: number, word: ast.RefStep) {
    this.ref = ref;
    this.at = at;
    this.before = ref.steps.slice(0, at);
    this.word = word;
  }

  put(names: readonly string[], call?: ast.Call): void {
    const steps = names.map((name): ast.RefStep => ({ $type: 'RefStep', $container: this.ref, name, keys: [] }));
    const last = steps.at(-1) ?? { ...this.word, name: '' };
    const made: ast.RefStep = {
      ...last,
      keys: this.word.keys,
      ...((call ?? this.word.call) ? { call: call ?? this.word.call! } : {}),
    };
    this.ref.steps = [...this.before, ...steps.slice(0, -1), made];
  }
}

export function fits(place: Place, names: readonly string[], trial: Trial, call?: ast.Call): boolean {
  place.put(names, call);
  return trial.fits();
}

/** A part whose name is no plain word is written in quotes: its place in the tree is another. */
export function fitsText({ ref }: Place, text: string, trial: Trial): boolean {
  const holder = ref.$container as unknown as Record<string, unknown>;
  const property = ref.$containerProperty ?? '';
  if (holder[property] !== ref) return false;
  holder[property] = { $type: 'Text', text, $container: ref.$container } as ast.Text;
  const fit = trial.fits();
  holder[property] = ref;
  return fit;
}
