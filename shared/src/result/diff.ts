// What `thou diff --format json` writes: the same builds in two states of a file or of a folder.
import type { At, Place } from './contract.ts';

/** A figure that somebody gave, and that is another now: one cell, or all of them where the same happened to all. */
export interface ChangedInput {
  readonly path: string;
  readonly at: At;
  /** `head.chamber[3]` */
  readonly label: string;
  /** As written; null where it was not given, or is not any more. */
  readonly old: string | null;
  readonly new: string | null;
  /** In which of the views it differs first: as measured, else as ordered, as specified, before. */
  readonly view: 'measured' | 'ordered' | 'specified' | 'before';
  /** Where it stands now, else where it stood. */
  readonly place: Place | null;
}
/** A figure that follows from others, in the cell where it moved furthest. */
export interface MovedFigure {
  readonly path: string;
  readonly at: At;
  readonly label: string;
  /** In words, as they are shown. */
  readonly old: string;
  readonly new: string;
  readonly unit: string | null;
  /** In `unit`, unrounded; null where there is none. */
  readonly values: readonly [old: number | null, new: number | null];
  /** Two standard deviations of the one that is known less well, in `unit`; null where nothing is unsure. */
  readonly uncertainty: number | null;
  /** It moved by more than that. */
  readonly beyond: boolean;
}
export interface ChangedCheck {
  readonly id: string;
  /** null: there was none, or there is none now. */
  readonly old: string | null;
  readonly new: string | null;
  /** Nearer to trouble than before. */
  readonly worse: boolean;
  /** What is said of it now; what was said of it where it is gone. */
  readonly message: string;
}
export interface BuildDiff {
  readonly name: string;
  /** In the folder: where it stands now, else where it stood; null where two files were named. */
  readonly file: string | null;
  /** Where it stood, if that was in another file of the folder. */
  readonly oldFile: string | null;
  readonly in: 'both' | 'old' | 'new';
  readonly inputs: readonly ChangedInput[];
  readonly figures: readonly MovedFigure[];
  /** Of a build that is new, those that are in trouble. */
  readonly checks: readonly ChangedCheck[];
}
/** A mistake in a text, of which there is none such in the other state. */
export interface Mistake {
  readonly file: string;
  readonly line: number;
  readonly code: string;
  readonly message: string;
  readonly in: 'old' | 'new';
}
export interface DiffResult {
  readonly format: 1;
  readonly thou: string;
  readonly old: string;
  readonly new: string;
  readonly builds: readonly BuildDiff[];
  /** Of two folders: builds in which nothing changed, which are not listed; null where two files were named, of which all are. */
  readonly same: number | null;
  readonly mistakes: readonly Mistake[];
}
