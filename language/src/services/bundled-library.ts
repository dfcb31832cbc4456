// The trade library in two texts: its chapters, and their trees made beforehand. Needs no files.
import type { ReadyFile } from '../grammar/file.ts';
import type { DrawingPlan } from '../report/drawings/plan.ts';
import type { Guide } from './environment.ts';

export interface ReadyTrees {
  /** Digest of the texts that they were made of. */
  readonly of: string;
  readonly files: readonly ReadyFile[];
}

export interface BundledLibrary {
  /** Of the language that it came with. */
  readonly version: string;
  readonly of: string;
  readonly edition: number;
  readonly root: string;
  readonly files: readonly { readonly name: string; readonly text: string }[];
  readonly cautions: readonly string[];
  readonly drawings: readonly DrawingPlan[];
}

/** `home`: the address under which the chapters lie, with a stroke at its end. Trees of other texts are left aside. */
export function unbundled(library: BundledLibrary, trees: ReadyTrees, home: string): Guide {
  const { edition, root, cautions, drawings } = library;
  const ready = trees.of === library.of ? trees.files : [];
  const files = library.files.map(({ name, text }, at) => ({ uri: `${home}${name}`, text, ready: ready[at] }));
  return { library: { edition, root, files }, cautions, drawings };
}
