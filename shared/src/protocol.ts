/** What server and editor say to each other beyond the standard protocol. A client asks for it at the start; others never hear of it. */

/** Sent after the diagnostics of a file that the editor has open. */
export const buildStatusMethod = 'thou/buildStatus';

/** In a client's `initializationOptions`. */
export interface AskedAtStart {
  readonly buildStatus?: boolean;
  /** The editor reads files for the server where the server cannot. */
  readonly readsFiles?: boolean;
  /** Sorts of addresses whose texts are sent, beside the usual ones. */
  readonly schemes?: readonly string[];
  /** Where the editor itself shows the pages of the problem codes, with a stroke at its end. */
  readonly pages?: string;
}

/** The first message to a server that runs as a worker, before the protocol begins. */
export interface WorkerStart {
  /** The trade library and its trees, as the files beside the worker hold them. */
  readonly library: string;
  readonly trees: string;
  /** The address of the folder that these files come from, with a stroke at its end. */
  readonly home: string;
}

/** Asked of an editor that reads files: the addresses of all texts and tables in a folder and below it. */
export const listFilesMethod = 'thou/listFiles';

export interface ListFilesAsked {
  readonly folder: string;
}

/** Asked of an editor that reads files: what one file holds. */
export const readFileMethod = 'thou/readFile';

export interface ReadFileAsked {
  readonly uri: string;
  /** A larger one is not read. */
  readonly mostBytes: number;
}
export type FileRead =
  { readonly text: string } | { readonly problem: 'not-there' | 'no-file' | 'too-large' | 'not-text' | 'not-allowed' };

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

/** Asks for a sheet of one build of a file, in pieces: what the asker has already is not sent again. */
export const sheetMethod = 'thou/sheet';

export interface SheetAsked {
  readonly textDocument: { readonly uri: string };
  /** Null: the first of the file. */
  readonly build: string | null;
  readonly kind: string;
  /** Folded pieces that are open; the inside of the others is not made. Null: all are. */
  readonly open: readonly string[] | null;
  /** Pieces that the asker has: `of` by id. */
  readonly have: Readonly<Record<string, string>>;
}
/** What stands inside the page's `main`, from top to bottom. */
export interface SheetPiece {
  readonly id: string;
  /** The same as long as the piece is the same. */
  readonly of: string;
  /** Null where the asker has it. */
  readonly html: string | null;
}
export interface SheetTold {
  /** In the order of the text. */
  readonly builds: readonly string[];
  readonly build: string;
  readonly kinds: readonly { readonly name: string; readonly title: string; readonly about: string }[];
  readonly kind: string;
  /** What does not hold, counted: read out where it has changed. */
  readonly summary: string;
  readonly pieces: readonly SheetPiece[];
}

/** Asks for a sheet as a page that needs nothing else, to be printed or sent: the answer is its text, or null. */
export const sheetPageMethod = 'thou/sheetPage';

export interface SheetPageAsked {
  readonly textDocument: { readonly uri: string };
  readonly build: string | null;
  readonly kind: string;
}

/** Asks where a figure or a finding of a sheet stands in the text: the answer is a location, or null. */
export const sheetPlaceMethod = 'thou/sheetPlace';

export interface SheetPlaceAsked {
  readonly textDocument: { readonly uri: string };
  readonly build: string;
  /** `width[3]`, or the id of a finding. */
  readonly figure?: string;
  readonly finding?: string;
}

/** Asks which figure of the sheet the text tells of at a place. */
export const sheetFigureMethod = 'thou/sheetFigure';

export interface SheetFigureAsked {
  readonly textDocument: { readonly uri: string };
  readonly position: { readonly line: number; readonly character: number };
}
export interface SheetFigure {
  /** Of the build that the place stands in; null outside every build. */
  readonly build: string | null;
  readonly figure: string;
  /** The piece of the whole sheet that it stands in; null where it stands in none. */
  readonly piece: string | null;
}

/** Asks for one step of what a figure of a sheet is made of and what uses it: the answer is markup to be put under it, or null. */
export const sheetApartMethod = 'thou/sheetApart';

export const apartWays = ['both', 'made', 'used'] as const;
export const apartViews = ['specified', 'ordered', 'before', 'measured'] as const;

export interface SheetApartAsked {
  readonly textDocument: { readonly uri: string };
  readonly build: string;
  /** `width[3]` */
  readonly figure: string;
  readonly view: (typeof apartViews)[number];
  readonly way: (typeof apartWays)[number];
}
export interface SheetApart {
  readonly html: string;
}

/** Asks for a text that tells of a file, to be read in the editor; it is asked for again when the file changes. */
export const reportMethod = 'thou/report';

export type ReportSort = 'findings' | 'explanation' | 'toMeasure' | 'ways' | 'comparison';

export interface ReportAsked {
  readonly textDocument: { readonly uri: string };
  readonly sort: ReportSort;
  /** Null: the build that the place stands in, else the first of the file. */
  readonly build: string | null;
  /** For an explanation: a figure by its name, or the place of a word that stands for one. */
  readonly figure?: string;
  readonly position?: { readonly line: number; readonly character: number };
  /** For ways back from a target: what is wanted, `gap = 0.040 in`, and what may be changed for it. */
  readonly goals?: readonly string[];
  readonly turn?: readonly string[];
}
/** A stretch of one line of the text, and the place that it leads to. */
export interface ReportLink {
  readonly line: number;
  readonly start: number;
  readonly end: number;
  readonly target: {
    readonly uri: string;
    readonly range: { readonly start: { readonly line: number; readonly character: number } };
  };
}
export interface ReportTold {
  readonly title: string;
  readonly text: string;
  readonly links: readonly ReportLink[];
  readonly build: string | null;
  readonly figure: string | null;
}
export type ReportAnswer = ReportTold | { readonly problem: string };

/** Asks for the chapters of the trade library, in the order of the job. */
export const chaptersMethod = 'thou/chapters';

export interface Chapter {
  readonly title: string;
  readonly file: string;
  readonly uri: string;
}

/** What a language model may ask, by the name of a tool in the manifest. Nothing is changed by it. */
export const toolMethod = 'thou/tool';

export interface ToolAsked {
  readonly tool: string;
  /** As the model wrote it: looked at before it is believed. */
  readonly input: unknown;
  /** The file that the reader looks at, for a model that names none. */
  readonly active: string | null;
}
export interface ToolTold {
  readonly text: string;
}
