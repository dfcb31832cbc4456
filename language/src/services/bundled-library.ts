// The trade library in two texts: its chapters, and their trees made beforehand. Needs no files.
import type { ReadyFile } from '../grammar/file.ts';
import type { Guide } from './environment.ts';

export interface ReadyTrees {
  /** Digest of the texts that they were made of. */
  readonly of: string;
  readonly files: readonly ReadyFile[];
}

/** Whatever goes with the chapters comes along as it is. */
export interface BundledLibrary extends Omit<Guide, 'library'> {
  /** Of the language that it came with. */
  readonly version: string;
  readonly of: string;
  readonly edition: number;
  readonly root: string;
  readonly files: readonly { readonly name: string; readonly text: string }[];
}

/** `home`: the address under which the chapters lie, with a stroke at its end. Trees of other texts are left aside. */
export function unbundled(bundled: BundledLibrary, trees: ReadyTrees, home: string): Guide {
  const { version: _, of, edition, root, files, ...others } = bundled;
  const ready = trees.of === of ? trees.files : [];
  const placed = files.map(({ name, text }, at) => ({ uri: `${home}${name}`, text, ready: () => ready[at] }));
  return { ...others, library: { edition, root, files: placed } };
}
