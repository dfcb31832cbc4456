/** What server and editor say to each other beyond the standard protocol. A client asks for it at the start; others never hear of it. */

/** Sent after the diagnostics of a file that the editor has open. */
export const buildStatusMethod = 'thou/buildStatus';

/** In a client's `initializationOptions`. */
export interface AskedAtStart {
  readonly buildStatus?: boolean;
}

/** How many checks of one build or variant stand how. */
export interface BuildStanding {
  readonly name: string;
  /** First and last line of its text, counted from 0. */
  readonly lines: readonly [first: number, last: number];
  /** As measured, on paper, or accepted. */
  readonly hold: number;
  readonly out: number;
  readonly atRisk: number;
  /** Figures that are still to be read. */
  readonly toMeasure: number;
}

export interface BuildStatus {
  readonly uri: string;
  /** In the order of the text. */
  readonly builds: readonly BuildStanding[];
}
