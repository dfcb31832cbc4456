// What `thou solve --format json` writes: ways in which a build comes to what is wanted of it, and what each brings about.
import type { At } from './contract.ts';

/** One figure in one place. */
export interface ChangedCell {
  readonly at: At;
  readonly from: number;
  /** As it can be written, or bought. */
  readonly to: number;
  /** The root itself, unrounded; null where a size was chosen and no figure worked out. */
  readonly exact: number | null;
}
export interface ChangeResult {
  readonly path: string;
  readonly unit: string | null;
  readonly cells: readonly ChangedCell[];
  /** It is bought, not cut. */
  readonly bought: boolean;
  /** The part with that size, where the file sees one. */
  readonly part: string | null;
}
export interface GoalResult {
  readonly goal: string;
  readonly unit: string | null;
  /** Least and greatest over its places. */
  readonly before: readonly [number, number] | null;
  readonly after: readonly [number, number] | null;
}
export interface MovedResult {
  readonly path: string;
  readonly unit: string | null;
  /** Of the place that moves furthest. */
  readonly at: At;
  readonly from: number;
  readonly to: number;
  /** A rule or the build asks something of it. */
  readonly checked: boolean;
}
export interface StandingResult {
  readonly id: string;
  readonly before: string;
  readonly after: string;
  readonly message: string;
}
export interface WayResult {
  readonly changes: readonly ChangeResult[];
  readonly goals: readonly GoalResult[];
  /** All that moves by more than its last shown digit. */
  readonly moved: readonly MovedResult[];
  readonly worse: readonly StandingResult[];
  readonly better: readonly StandingResult[];
}
export interface NoWayResult {
  readonly turned: readonly string[];
  readonly why: 'wrong-way' | 'out-of-reach' | 'as-near';
  readonly message: string;
}
export interface SolveResult {
  readonly format: 1;
  readonly thou: string;
  readonly build: string;
  readonly goals: readonly string[];
  /** Nothing has to be changed. */
  readonly holdsAlready: boolean;
  readonly ways: readonly WayResult[];
  readonly noWays: readonly NoWayResult[];
}
