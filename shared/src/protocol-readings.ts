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
