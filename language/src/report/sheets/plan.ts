// What the trade library says about sheets: which there are, and what stands on each in which order. Knows no figure and no trade.

interface Titled {
  readonly title: string;
  /** A line under the title. */
  readonly about?: string;
  /** Opened by who asks for it. */
  readonly folded?: boolean;
}
/** What is made from the build alone. */
export interface PlainPart extends Titled {
  readonly is: 'causes' | 'to-measure' | 'read-again' | 'readings' | 'to-buy' | 'tasks' | 'history' | 'cautions';
}
export interface FindingsPart extends Titled {
  readonly is: 'findings';
  /** Else all. */
  readonly only?: 'out' | 'out-and-mended-by-a-cut';
  /** One line each. */
  readonly brief?: boolean;
}
/** Every chapter of the job as a part of its own. */
export interface ChaptersPart {
  readonly is: 'chapters';
  readonly folded?: boolean;
}
/** Places to write on. */
export interface BlanksPart {
  readonly is: 'blanks';
  readonly names: readonly string[];
}
/** How a figure is held and measured while it is cut: in words, under each cut of the figures that it is of. */
export interface CutsPart extends Titled {
  readonly is: 'cuts';
  readonly notes?: readonly { readonly of: readonly string[]; readonly text: string }[];
  /** Orders on record: the mount, its figure that holds the path of what is cut, and what of it is told. */
  readonly records?: { readonly of: string; readonly figure: string; readonly tell: readonly string[] };
}
/** Figures by path; those that nobody gave and that do not follow are left out. */
export interface FiguresPart extends Titled {
  readonly is: 'figures';
  readonly figures: readonly FigurePlan[];
}
export interface FigurePlan {
  readonly path: string;
  /** Else its path in words. */
  readonly name?: string;
  /** A line of blanks under it, to be filled in by hand. */
  readonly blank?: string;
}
/** Parts that are fitted, with what is said of each. */
export interface PartsPart extends Titled {
  readonly is: 'parts';
  readonly columns: readonly { readonly name: string; readonly head: string }[];
  /** A column of money that is added up under the table. */
  readonly sum?: { readonly name: string; readonly title: string };
  /** Components that are no parts to be bought. */
  readonly without?: readonly string[];
}
export interface StepsPart extends Titled {
  readonly is: 'steps';
  readonly steps: readonly StepPlan[];
}
export interface StepPlan {
  readonly title: string;
  readonly text: string;
  /** Stands on the sheet where one of these is known; always where nothing is named. */
  readonly when?: readonly string[];
  readonly figures?: readonly FigurePlan[];
  /** By name; one that cannot be drawn yet is left out. */
  readonly drawing?: string;
  readonly blanks?: readonly string[];
}

export type PartPlan =
  PlainPart | FindingsPart | ChaptersPart | BlanksPart | CutsPart | FiguresPart | PartsPart | StepsPart;

export interface SheetPlan {
  /** By which it is asked for. */
  readonly name: string;
  readonly title: string;
  /** For who chooses. */
  readonly about: string;
  /** Whether all counted checks and the text over the build stand at its head. */
  readonly whole?: boolean;
  readonly parts: readonly PartPlan[];
}

/** Every path that a sheet names. */
export function pathsOnSheet({ parts }: SheetPlan): readonly string[] {
  return parts.flatMap((part) => {
    if (part.is === 'cuts') {
      const { notes = [], records } = part;
      const recorded = records ? [records.figure, ...records.tell].map((name) => `${records.of}.${name}`) : [];
      return [...notes.flatMap(({ of }) => of), ...recorded];
    }
    if (part.is === 'figures') return part.figures.map(({ path }) => path);
    if (part.is !== 'steps') return [];
    return part.steps.flatMap(({ when, figures }) => [...(when ?? []), ...(figures ?? []).map(({ path }) => path)]);
  });
}
