// What the trade library says about drawings: which figures are drawn, how, and in which words. Knows no figure and no trade.

interface Planned {
  /** By which one drawing is asked for: `clearances`. */
  readonly name: string;
  readonly title: string;
  /** What can be seen, for those who do not see it. */
  readonly description: string;
}
/** Places of one figure against their limits. */
export interface CellsPlan extends Planned {
  readonly kind: 'cells';
  readonly figure: string;
}
/** Figures along an axis, or curves over the keys of the first. */
export interface LinesPlan extends Planned {
  readonly kind: 'lines';
  readonly figures: readonly {
    readonly path: string;
    readonly name?: string;
    /** What each figure may be off: figures along the same axis, or of a curve one for all of it. */
    readonly unsure?: string;
  }[];
  /** Of figures along an axis; only from one place to another where these are given. */
  readonly along?: {
    readonly axis: string;
    readonly unit: string;
    readonly decimals: number;
    readonly from?: number;
    readonly to?: number;
  };
  /** What the keys of a curve are. */
  readonly across?: string;
  /** Of many places only the one whose line comes lowest. */
  readonly only?: 'lowest';
  /** Figures that stand on the axis, and figures or limits of what is drawn, each with a name. */
  readonly marks?: readonly { readonly path: string; readonly name: string }[];
  readonly levels?: readonly { readonly path: string; readonly name: string }[];
  /** The least place of each line gets a mark with this name. */
  readonly least?: string;
  /** Where nothing of it can be drawn: what is said instead, with a figure behind it; where that is not known either, nothing. */
  readonly instead?: { readonly words: string; readonly path: string };
}
/** Pairs of figures, in a straight line from one to the next. */
export interface PairsPlan extends Planned {
  readonly kind: 'pairs';
  readonly pairs: readonly { readonly across: string; readonly up: string; readonly name: string }[];
  readonly marks?: readonly { readonly path: string; readonly name: string }[];
}
/** Lengths that add up; `-` before a path takes it off. */
export interface ChainPlan extends Planned {
  readonly kind: 'chain';
  readonly datum: string;
  readonly links: readonly string[];
  readonly rest: string;
}
export interface OrbitPlan extends Planned {
  readonly kind: 'orbit';
  readonly across: string;
  readonly up: string;
  readonly along: { readonly axis: string; readonly unit: string; readonly decimals: number };
}
/** Ends of a span are a place of the turn and a figure away from it: `-` before the path is before that place. */
export interface CirclePlan extends Planned {
  readonly kind: 'circle';
  readonly places: readonly { readonly name: string; readonly at: number }[];
  readonly spans: readonly {
    readonly name: string;
    readonly from: { readonly place: string; readonly by: string };
    readonly to: { readonly place: string; readonly by: string };
  }[];
}

/** Places along an axis as they lie in a plane, each with its turn. */
export interface PlacesPlan extends Planned {
  readonly kind: 'places';
  readonly turn: { readonly path: string; readonly name: string };
  readonly across: string;
  readonly up: string;
}

export type DrawingPlan = CellsPlan | LinesPlan | PairsPlan | ChainPlan | OrbitPlan | CirclePlan | PlacesPlan;

/** A path with its sign. */
export function signed(text: string): { readonly path: string; readonly sign: 1 | -1 } {
  return text.startsWith('-') ? { path: text.slice(1), sign: -1 } : { path: text, sign: 1 };
}

/** Every path that a drawing reads: the first is where it belongs on the sheet. */
export function pathsOf(plan: DrawingPlan): readonly string[] {
  switch (plan.kind) {
    case 'cells':
      return [plan.figure];
    case 'lines': {
      const lines = plan.figures.flatMap(({ path, unsure }) => (unsure === undefined ? [path] : [path, unsure]));
      const beside = [...(plan.marks ?? []), ...(plan.levels ?? [])].map(({ path }) => path);
      return [...lines, ...beside, ...(plan.instead ? [plan.instead.path] : [])];
    }
    case 'pairs':
      return [
        ...plan.pairs.flatMap(({ across, up }) => [up, across]),
        ...(plan.marks ?? []).map(({ path }) => path),
      ].map((path) => signed(path).path);
    case 'chain':
      return [plan.rest, ...plan.links.map((link) => signed(link).path)];
    case 'orbit':
      return [plan.across, plan.up];
    case 'places':
      return [plan.turn.path, plan.across, plan.up];
    case 'circle':
      return plan.spans.flatMap(({ from, to }) => [from.by, to.by]).map((by) => signed(by).path);
  }
}
