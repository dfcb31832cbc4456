/** What server and editor say to each other when readings are brought in: pasted, typed one by one, kept in tables. */

interface Document {
  readonly textDocument: { readonly uri: string };
}
interface Place {
  readonly line: number;
  readonly character: number;
}
export interface Stretch {
  readonly start: Place;
  readonly end: Place;
}

/** Asks what a block of cells from the clipboard becomes in the place of what is selected; null: nothing special. */
export const pasteMethod = 'thou/paste';

export interface PasteAsked extends Document {
  readonly range: Stretch;
  readonly text: string;
}
/** Either a text to be put there, or the reason why there is none. */
export interface PasteTold {
  readonly text: string | null;
  readonly title: string;
  readonly problem: string | null;
}

/** Asks which readings of a build are due, those of one figure behind each other. */
export const dueMethod = 'thou/due';

export interface DueAsked extends Document {
  /** Null: the one that the place stands in, else the first. */
  readonly build: string | null;
  readonly position: Place | null;
}
export interface ReadingDue {
  /** `plate.width[3]` */
  readonly figure: string;
  readonly label: string;
  /** What it is, how it is measured, what it should be: a line each. */
  readonly about: readonly string[];
  readonly unit: string | null;
}
/** With whom, when and with what it was last measured. */
export interface MeasuredBy {
  readonly date: string;
  readonly hand: string;
  readonly instrument: string | null;
}
export interface DueReadings {
  readonly build: string;
  readonly readings: readonly ReadingDue[];
  readonly instruments: readonly string[];
  readonly last: Partial<MeasuredBy>;
  /** Figures of several places, of which a table can be made. */
  readonly tables: readonly { readonly figure: string; readonly label: string; readonly count: number }[];
}

/** Asks what becomes of one reading: what is to be said about it, and the change that writes it down. */
export const readingMethod = 'thou/reading';

export interface ReadingAsked extends Document, MeasuredBy {
  readonly build: string;
  readonly figure: string;
  /** `2.4496`, `62.21 mm` */
  readonly typed: string;
}
export interface ReadingTold {
  /** Why it cannot be written down. */
  readonly problem: string | null;
  /** What is to be thought of before it is. */
  readonly remark: string | null;
  readonly edits: readonly TextChange[];
}
export interface TextChange {
  readonly range: Stretch;
  readonly newText: string;
}

/** Asks for an empty table of the readings of one figure, and for the line that reads it. */
export const tableMethod = 'thou/table';

export interface TableAsked extends Document, MeasuredBy {
  readonly build: string;
  readonly figure: string;
  /** Of the file, beside the text. */
  readonly name: string;
}
export type TableTold = { readonly csv: string; readonly edits: readonly TextChange[] } | { readonly problem: string };
