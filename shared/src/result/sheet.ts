// The build sheet as a model: what stands on it, in its order, ready to be laid out in a terminal, on paper or in a view.
// All of it is text for a reader; addresses and places lead back to the file. Knows no layout.
import type { Drawing } from '../drawing/drawing.ts';
import type { Place, ViewName } from './contract.ts';

export interface SheetFinding {
  readonly state: string;
  readonly severity: 'error' | 'warning' | 'advice' | 'hint';
  readonly headline: string;
  /** Further lines, each with what it is about: whose limit, because, what to do. */
  readonly lines: readonly { readonly label: string; readonly text: string }[];
  readonly id: string;
  readonly place: Place | null;
}

/** One figure as it is read: the number, its unit, and the same in the second unit. */
export interface SheetFigure {
  readonly number: string;
  readonly unit: string;
  /** `7007 cc` */
  readonly second: string | null;
  /** Twice the standard uncertainty, with the unit of the figure. */
  readonly plusMinus: string | null;
}
export type SheetViews = Readonly<Record<ViewName, SheetFigure>>;

/** A figure of which there is one, or which is the same in every place. */
export interface SheetSingle {
  readonly kind: 'single';
  readonly name: string;
  readonly address: string;
  /** `each station`, or empty. */
  readonly each: string;
  readonly views: SheetViews;
  /** The views worth showing: those that differ from the one before them, and the value itself. */
  readonly shown: readonly ViewName[];
  readonly limits: string;
  readonly state: string;
  readonly note: string;
  readonly place: Place | null;
}
/** Figures along one axis, with the lines of those views that differ. */
export interface SheetRow {
  readonly kind: 'row';
  readonly name: string;
  readonly address: string;
  /** Where further axes are fixed: `top, thrust`. */
  readonly at: string;
  readonly axis: string;
  readonly heads: readonly string[];
  /** Of each place, as it is named in the file: `width[3]`. */
  readonly addresses: readonly string[];
  readonly unit: string;
  /** The value first, then the views that differ from place to place. */
  readonly lines: readonly { readonly label: string; readonly figures: readonly SheetFigure[] }[];
  /** Views that read the same in every place. */
  readonly same: readonly { readonly label: string; readonly text: string }[];
  /** Places whose check is out of limits or at risk. */
  readonly marked: readonly boolean[];
  readonly second: { readonly unit: string; readonly numbers: readonly string[] } | null;
  readonly limits: string;
  readonly state: string;
  readonly note: string;
  readonly place: Place | null;
}

export interface SheetSection {
  readonly title: string;
  readonly doc: string;
  readonly parts: readonly string[];
  readonly singles: readonly SheetSingle[];
  readonly rows: readonly SheetRow[];
}

/** What is to be read, in all its places together. */
export interface SheetReading {
  readonly label: string;
  readonly why: string;
  readonly settles: string;
  readonly address: string;
}

/** A reading that a later cut has overtaken, in all its places together. */
export interface SheetReadAgain {
  readonly label: string;
  /** When and by whom it was read. */
  readonly read: string;
  /** What overtook it. */
  readonly since: string;
  readonly address: string;
}

/** Places that take the same size, together. */
export interface SheetOrder {
  readonly label: string;
  readonly size: string;
  readonly count: number;
  /** The figures that made it; of several places those of the first. */
  readonly from: string;
  readonly address: string;
}

/** A list of tasks, as it is worked down. */
export interface SheetList {
  readonly title: string;
  readonly doc: string;
  readonly address: string;
  readonly tasks: readonly {
    /** Empty where the list is one task. */
    readonly task: string;
    readonly done: boolean;
    /** When and by whom; empty where it is not done, or where nobody says. */
    readonly said: string;
    readonly address: string;
  }[];
}

/** What is drawn of a build. */
export interface SheetDrawing {
  readonly name: string;
  /** The figure that it belongs to. */
  readonly address: string;
  readonly title: string;
  readonly drawing: Drawing;
}

export interface SheetModel {
  readonly build: string;
  readonly variantOf: string | null;
  readonly doc: string;
  readonly edition: number | null;
  readonly file: string;
  readonly summary: string;
  readonly mistakes: string;
  readonly findings: readonly SheetFinding[];
  readonly causes: readonly string[];
  readonly toMeasure: readonly SheetReading[];
  readonly readAgain: readonly SheetReadAgain[];
  readonly toOrder: readonly SheetOrder[];
  readonly lists: readonly SheetList[];
  readonly history: readonly string[];
  readonly sections: readonly SheetSection[];
  readonly cautions: readonly string[];
}
