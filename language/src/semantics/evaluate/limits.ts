/** What one evaluation takes at most, so that no text can hold the tool up. */
import { caps } from '@thou/shared/limits';

/** Cells of one intermediate result: twice what one slot may have. */
export const mostCells = 2 * caps.cells;
/** Ways tried by a search before it gives up with a reason. */
export const mostSums = 100_000;
export const mostBranches = 2_000_000;
/** Cells of a square of rows by choices in one assignment. */
export const mostPairs = 4_000_000;
