// What the server needs from where it runs: files, time, the library as it lies there. Node brings one, a browser worker another.
import type { DrawingPlan } from '../report/drawings/plan.ts';
import type { SheetPlan } from '../report/sheets/plan.ts';
import type { LibraryText } from '../semantics/project.ts';
import type { Feature } from './feature.ts';
import type { Disk } from './workspace.ts';

/** What the trade library brings for sheets beside its chapters. */
export interface Guide {
  readonly library: LibraryText;
  readonly cautions: readonly string[];
  readonly drawings: readonly DrawingPlan[];
  readonly sheets: readonly SheetPlan[];
}

export interface Environment {
  readonly version: string;
  readonly library: LibraryText;
  readonly cautions: readonly string[];
  readonly drawings: readonly DrawingPlan[];
  readonly sheets: readonly SheetPlan[];
  /** What can be asked for only where this runs. */
  readonly own?: readonly Feature[];
  /** Where the pages of the problem codes lie, with a stroke at its end. */
  readonly pages: string;
  /** The files of these folders, and of the folder of a file that lies in none of them. */
  disk(folders: readonly string[]): Disk;
  /** Whether `disk` could read there at all; the editor is asked for other files where it can. */
  reaches(uri: string): boolean;
  /** One address for one file, however an editor spells it and through whatever link it is reached. */
  canonical(uri: string): string;
  /** Runs `work` when the messages at hand are through, or after so many milliseconds; the answer takes it back. */
  later(work: () => void, milliseconds?: number): () => void;
}
