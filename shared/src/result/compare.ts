// What `thou compare --format json` writes: builds and variants beside each other, what differs first.
import type { Nested } from './contract.ts';

export interface ComparedFigure {
  readonly path: string;
  readonly unit: string | null;
  /** Of the first build that has it. */
  readonly axes: readonly string[];
  /** Somebody gave it, in one of the builds at least; else it follows from others. */
  readonly given: boolean;
  readonly differs: boolean;
  /** One a build, in their order; null where a build has no such figure, or it is no number. */
  readonly values: readonly (Nested<number | null> | null)[];
  /** The same in words, as the text shows it. */
  readonly texts: readonly string[];
}
export interface ComparedCheck {
  readonly id: string;
  readonly differs: boolean;
  /** One a build; null where there is no such check. */
  readonly states: readonly (string | null)[];
}
export interface CompareResult {
  readonly format: 1;
  readonly thou: string;
  readonly builds: readonly string[];
  /** Where each stands: builds of two files may be called the same. */
  readonly files: readonly string[];
  /** Courses along steps, such as a figure for each degree of a turn, are left out. */
  readonly figures: readonly ComparedFigure[];
  readonly checks: readonly ComparedCheck[];
}
