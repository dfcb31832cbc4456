// One figure taken apart by one step, for a reader who opens one branch after the other: its places, what it is made of, what uses it.
// Reads outcomes and texts; computes no figure.
import type { View } from '../semantics/ir.ts';
import type { Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { address, cellAt, cellCount, placesOf } from './cells.ts';
import { formulaLines, limitLines, stateText } from './explain.ts';
import { checkText } from './explanation.ts';
import { textOfRead, type Read } from './input-figures.ts';
import { inputsOf, singleCell, speakingFormula } from './inputs.ts';
import { cellsNamed, locate } from './locate.ts';
import { capitalised, docText, type Files } from './place.ts';
import { originText } from './provenance.ts';
import { viewLabels } from './rows.ts';
import { checksOn, usersOf } from './users.ts';

/** Which way a branch is opened further; `both` where it is a place of what was asked for. */
export type Way = 'made' | 'used' | 'both';

export interface Step {
  readonly text: string;
  /** Where it comes from, in words; empty where that is told elsewhere. */
  readonly from: string;
  /** The figure that it tells of; null for a check, or for what is only counted. */
  readonly figure: string | null;
  readonly view: View;
  /** Whether there is anything under it. */
  readonly opens: boolean;
}
export interface TakenApart {
  readonly about: readonly string[];
  /** Of a figure of several places: each of them, to be taken apart alone. */
  readonly places: readonly Step[];
  readonly made: readonly Step[];
  readonly used: readonly Step[];
}

/** So many lines of one sort are enough for any reader. */
const mostSteps = 48;

export interface Asked {
  readonly figure: string;
  readonly view: View;
  readonly way: Way;
}

export function takenApart(
  outcome: Outcome,
  { figure, view, way }: Asked,
  files: Files,
): TakenApart | { readonly problem: string } {
  const located = locate(outcome, figure);
  if ('problem' in located) return located;
  const { one, places } = located;
  const cells = cellsNamed(located);
  const [only] = cells;
  if (only === undefined) return { problem: `${one.slot.path} has no place yet: the size of its axis is missing.` };
  const apart = new Apart(outcome, files);
  const used = way === 'made' ? [] : apart.usedBy(one, places);
  if (cells.length > 1) {
    const each = cells.map((cell) => apart.read({ one, places: placesOf(one.axes, cell), view }, view, way));
    return { about: [], places: shortened(each, view), made: [], used: shortened(used, view) };
  }
  return {
    about: way === 'used' ? [] : apart.about(one, only, view, way),
    places: [],
    made: way === 'used' ? [] : shortened(apart.madeOf(one, only, view), view),
    used: shortened(used, view),
  };
}

function shortened(steps: readonly Step[], view: View): readonly Step[] {
  if (steps.length <= mostSteps) return steps;
  const more = `and ${steps.length - mostSteps} more`;
  return [...steps.slice(0, mostSteps), { text: more, from: '', figure: null, view, opens: false }];
}

class Apart {
  private readonly outcome: Outcome;
  private readonly files: Files;

  constructor(outcome: Outcome, files: Files) {
    this.outcome = outcome;
    this.files = files;
  }

  /** What it is and how it stands is said where somebody begins; deeper the formula is enough. */
  about(one: SlotOutcome, cell: number, view: View, way: Way): string[] {
    const { outcome, files } = this;
    const formula = formulaLines(outcome, one, cell, view, { files });
    if (way === 'made') return spoken(formula);
    const doc = docText(one.slot.doc).split('\n');
    return spoken([
      ...doc,
      `${stateText(one, cell)} ${capitalised(originText(one, cell, view, files))}.`,
      ...formula,
      ...limitLines(outcome, one, cell, files),
    ]);
  }

  madeOf(one: SlotOutcome, cell: number, view: View): Step[] {
    const formula = speakingFormula(one, cell, view);
    const inputs = formula ? inputsOf(this.outcome, formula, one, placesOf(one.axes, cell), view) : [];
    return unlike(inputs.map((input) => this.read(input, view, 'made')));
  }

  usedBy(one: SlotOutcome, places: readonly (number | null)[]): Step[] {
    const view = 'measured';
    const users = usersOf(this.outcome, one, places);
    const known = users.filter(({ isKnown }) => isKnown);
    const unknown = users.length - known.length;
    const bare = { from: '', figure: null, view, opens: false } as const;
    return [
      ...checksOn(this.outcome, one).map((check) => ({ ...bare, text: checkText(this.outcome, check) })),
      ...known.map((user) => this.read({ ...user, view }, view, 'used')),
      ...(unknown > 0 ? [{ ...bare, text: `${unknown} more, without a figure so far` }] : []),
    ];
  }

  /** `inView`: the view that is spoken of; another is named. */
  read(read: Read, inView: View, way: Way): Step {
    const { outcome, files } = this;
    const { one, places, view } = read;
    const figure = address(outcome.binding.schema, one.slot, one.axes, places);
    const single = singleCell(read);
    const isNamed = view !== inView;
    return {
      text: `${figure}${isNamed ? ` ${viewLabels[view]}` : ''} = ${textOfRead(outcome, read)}`,
      from: way === 'used' || single === null ? '' : originText(one, single, view, files),
      figure,
      view,
      opens: this.opens(read, way),
    };
  }

  private opens(read: Read, way: Way): boolean {
    const { one, places, view } = read;
    if (way === 'both') return true;
    if (way === 'used') return usersOf(this.outcome, one, places).length > 0 || checksOn(this.outcome, one).length > 0;
    const single = singleCell(read);
    const cell =
      single ??
      cellAt(
        one.axes,
        places.map((place) => place ?? 0),
      );
    if (single === null && cellCount(one.axes) > 1) return true;
    const formula = speakingFormula(one, cell, view);
    return formula !== null && inputsOf(this.outcome, formula, one, placesOf(one.axes, cell), view).length > 0;
  }
}

/** A figure that is read twice is named once. */
function unlike(steps: readonly Step[]): Step[] {
  return [...new Map(steps.map((step) => [step.text, step])).values()];
}

function spoken(lines: readonly string[]): string[] {
  return lines.map((line) => line.trim()).filter((line) => line !== '');
}
