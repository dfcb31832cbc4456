// A chart as what it shows: figures along one quantity, with limits and places of note. Knows no pixels.
import { fixed } from '../number/format.ts';

export interface ChartAxis {
  /** What is laid along it: `thickness`. */
  readonly name: string;
  /** Empty for plain numbers. */
  readonly unit: string;
  /** With which figures along it are told. */
  readonly decimals: number;
}
export interface ChartLine {
  /** `station 3`; empty where there is one line. */
  readonly name: string;
  /** One figure for each of `at`; null where there is none. */
  readonly figures: readonly (number | null)[];
  /** How far each figure may be off, as from noise of the readings it is made of; none where that is not known. */
  readonly unsure?: readonly (number | null)[];
}
export interface Chart {
  readonly title: string;
  /** One or two sentences that say what can be seen. */
  readonly description: string;
  readonly across: ChartAxis;
  readonly up: ChartAxis;
  /** Places along `across`, rising. */
  readonly at: readonly number[];
  readonly lines: readonly ChartLine[];
  /** Of what is laid upwards; null: open on that side. */
  readonly limits: { readonly low: number | null; readonly high: number | null; readonly name: string } | null;
  /** Figures of what is laid upwards that have a name, drawn through. */
  readonly levels?: readonly { readonly at: number; readonly name: string }[];
  /** Points on a line that have a name: the least of it. */
  readonly points?: readonly { readonly at: number; readonly figure: number; readonly name: string }[];
  /** Places along `across` that have a name: where things stand now. */
  readonly marks: readonly { readonly at: number; readonly name: string }[];
  /** Said in the place of lines, where there are none: why, and what would bring them. */
  readonly note?: string;
}

/** The same figures as rows under heads, for those who do not see the drawing. */
export interface ChartTable {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export function headOf({ name, unit }: Pick<ChartAxis, 'name' | 'unit'>): string {
  return unit === '' ? name : `${name} (${unit})`;
}

export function tableOf({ across, up, at, lines, note }: Chart): ChartTable {
  if (note !== undefined) return { heads: [''], rows: [[note]] };
  return {
    heads: [headOf(across), ...lines.map(({ name }) => headOf({ name: name === '' ? up.name : name, unit: up.unit }))],
    rows: at.map((place, row) => [
      fixed(place, across.decimals),
      ...lines.map(({ figures }) => fixed(figures[row] ?? NaN, up.decimals)),
    ]),
  };
}
