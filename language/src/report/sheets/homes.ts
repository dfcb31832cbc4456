// In which part of a sheet figures and drawings stand: a drawing stands where the figure stands that it belongs to.
import { pathsOf, type DrawingPlan } from '../drawings/plan.ts';
import type { SectionPlan } from '../sections.ts';

export const homelessPart = 'drawings';

/** By which a chapter is asked for. */
export function chapterPiece({ id }: Pick<SectionPlan, 'id'>): string {
  return `chapter-${id}`;
}

/** Null: those that belong to no chapter. */
export function drawingHomes(
  plans: readonly SectionPlan[],
  drawings: readonly DrawingPlan[],
): Map<SectionPlan | null, DrawingPlan[]> {
  const homes = new Map<SectionPlan | null, DrawingPlan[]>();
  for (const drawing of drawings) {
    const path = pathsOf(drawing)[0]!;
    const mount = path.split('.')[0]!;
    const home =
      plans.find(({ slots }) => slots.some(({ slot }) => slot.path === path)) ??
      plans.find(({ slots }) => slots.some(({ slot }) => slot.path.split('.')[0] === mount)) ??
      null;
    homes.set(home, [...(homes.get(home) ?? []), drawing]);
  }
  return homes;
}

/** The part of the sheet that a thing stands in, by its id. */
export interface Homes {
  readonly ofDrawing: (plan: DrawingPlan) => string;
  /** Null where the figure does not stand on the sheet. */
  readonly ofFigure: (path: string) => string | null;
}

export function homesIn(
  plans: readonly SectionPlan[],
  homes: ReadonlyMap<SectionPlan | null, readonly DrawingPlan[]>,
): Homes {
  const ofDrawing = new Map([...homes].flatMap(([home, drawings]) => drawings.map((one) => [one, home] as const)));
  const ofFigure = new Map(plans.flatMap((plan) => plan.slots.map(({ slot }) => [slot.path, chapterPiece(plan)])));
  return {
    ofDrawing: (drawing) => {
      const home = ofDrawing.get(drawing);
      return home ? chapterPiece(home) : homelessPart;
    },
    ofFigure: (path) => ofFigure.get(path) ?? null,
  };
}
