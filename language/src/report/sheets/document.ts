// A sheet as it is laid out anywhere: parts with titles, each made of a few kinds of blocks. Text for a reader; no markup.
import type { Place } from '@thou/shared/result/contract';
import type { SheetDrawing, SheetFigure, SheetFinding, SheetList } from '@thou/shared/result/sheet';

/** `address`: the figure that it tells of, for who follows it there. */
export type Cell =
  | string
  | { readonly text: string; readonly address: string }
  | { readonly text: string; readonly is: 'number' }
  | { readonly is: 'blank' };

export interface TableBlock {
  readonly is: 'table';
  readonly caption: string;
  readonly heads: readonly string[];
  /** `under`: what is said of the row as a whole. */
  readonly rows: readonly { readonly cells: readonly Cell[]; readonly under?: string }[];
}

/** One place of a figure. `null` as figure: to be filled in by hand. */
export interface GridCell {
  readonly figure: SheetFigure | null;
  readonly address: string | null;
  readonly marked: boolean;
}
export interface GridRow {
  readonly name: string;
  readonly address: string;
  /** `each station`, `top`; empty where there is one place. */
  readonly where: string;
  /** Of all cells; empty where each says its own. */
  readonly unit: string;
  readonly cells: readonly GridCell[];
  readonly limits: string;
  readonly notes: string;
  /** A further line of the figure above. */
  readonly further: boolean;
  readonly place: Place | null;
  /** Where drawings lead back to, and those that show the figure. */
  readonly anchor?: string;
  readonly drawings?: readonly SheetLink[];
  /** One step of what it is made of and what uses it, at its first place; only on pages where nobody can be asked. */
  readonly apart?: { readonly made: readonly string[]; readonly used: readonly string[] };
}
/** Where a thing stands on the same sheet, and the part that holds it. */
export interface SheetLink {
  readonly text: string;
  readonly anchor: string;
  readonly part: string;
}
/** Rows whose cells stand under the same heads. `by` is the axis, or empty where the heads are no places. */
interface GridGroup {
  readonly by: string;
  readonly heads: readonly string[];
  readonly rows: readonly GridRow[];
}
export interface GridBlock {
  readonly is: 'grid';
  readonly caption: string;
  readonly groups: readonly GridGroup[];
}

interface Step {
  readonly title: string;
  readonly text: string;
  readonly grid: GridBlock | null;
  readonly drawing: SheetDrawing | null;
  readonly blanks: readonly string[];
}

export type Block =
  | { readonly is: 'text'; readonly text: string; readonly look: 'plain' | 'from' | 'note' | 'summary' | 'mistake' }
  | { readonly is: 'list'; readonly lines: readonly string[] }
  | { readonly is: 'blanks'; readonly names: readonly string[] }
  | { readonly is: 'findings'; readonly findings: readonly SheetFinding[] }
  | { readonly is: 'tasks'; readonly list: SheetList }
  | { readonly is: 'steps'; readonly steps: readonly Step[] }
  | {
      readonly is: 'drawing';
      readonly drawing: SheetDrawing;
      readonly anchor: string;
      /** Those of its figures that stand on the sheet. */
      readonly figures: readonly SheetLink[];
    }
  | TableBlock
  | GridBlock;

export interface Part {
  /** The same for the same part of the same sheet, whatever stands on it. */
  readonly id: string;
  readonly title: string;
  readonly about: string;
  /** What stands beside the title where the part is folded: `34 figures, 2 out of limits`. */
  readonly counted: string;
  readonly folded: boolean;
  /** Made when somebody looks. */
  blocks(): readonly Block[];
}

export interface SheetDocument {
  /** Name of the sheet. */
  readonly kind: string;
  readonly build: string;
  readonly title: string;
  /** What does not hold, counted. */
  readonly summary: string;
  /** Without a title, at the top. */
  readonly head: readonly Block[];
  readonly parts: readonly Part[];
}
