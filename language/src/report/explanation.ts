// One figure explained as a tree both ways: what it is made of, back to what somebody gave, and what uses it, on to the checks that rest on it.
// Reads outcomes and texts; computes no figure.
import type { View } from '../semantics/ir.ts';
import type { CheckOutcome, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { address, cellAt, placesOf } from './cells.ts';
import { explain } from './explain.ts';
import { headline } from './headline.ts';
import { textOfRead } from './input-figures.ts';
import { inputsOf, singleCell, speakingFormula } from './inputs.ts';
import { locate } from './locate.ts';
import { capitalised, type Files } from './place.ts';
import { originText } from './provenance.ts';
import { viewLabels } from './rows.ts';
import { checksOn, usersOf } from './users.ts';

export interface ExplanationLine {
  readonly text: string;
  /** Where the thing that the line tells of is written. */
  readonly origin: Origin | null;
}

interface Branch extends ExplanationLine {
  readonly children: readonly Branch[];
}

interface ExplanationOptions {
  /** How many steps back and on. */
  readonly deep: number;
  readonly files: Files;
}

/** So many lines of one tree are enough for any reader. */
const mostBranches = 300;

/** Indented by two blanks a step, so that any editor folds it. */
export function explanationLines(
  outcome: Outcome,
  name: string,
  { deep, files }: ExplanationOptions,
): readonly ExplanationLine[] | { readonly problem: string } {
  const told = explain(outcome, name, { deep: 0, files });
  const located = locate(outcome, name);
  if ('problem' in told) return told;
  if ('problem' in located) return located;
  const { one } = located;
  const cell = cellAt(
    one.axes,
    located.places.map((place) => place ?? 0),
  );
  const tree = (): Tree => new Tree(outcome, files, deep);
  const [head = '', ...rest] = told;
  return [
    { text: head, origin: originOf(one, cell, 'measured') },
    ...rest.map((text) => ({ text, origin: null })),
    ...titled('Made of', tree().madeOf(one, cell, 'measured')),
    ...titled('Used by', tree().usedBy(one, located.places)),
  ];
}

function titled(title: string, branches: readonly Branch[]): ExplanationLine[] {
  if (branches.length === 0) return [];
  const lines: ExplanationLine[] = [
    { text: '', origin: null },
    { text: title, origin: null },
  ];
  const visit = (branch: Branch, depth: number): void => {
    lines.push({ text: '  '.repeat(depth) + branch.text, origin: branch.origin });
    for (const child of branch.children) visit(child, depth + 1);
  };
  for (const branch of branches) visit(branch, 1);
  return lines;
}

function originOf(one: SlotOutcome, cell: number | null, view: View): Origin {
  return (cell === null ? null : one.sourceOf(cell, view)?.origin) ?? one.slot.origin;
}

class Tree {
  private readonly outcome: Outcome;
  private readonly files: Files;
  private readonly deep: number;
  /** What was told, and whether there is anything under it; the second time it is only named. */
  private readonly told = new Map<string, boolean>();
  private left = mostBranches;

  constructor(outcome: Outcome, files: Files, deep: number) {
    this.outcome = outcome;
    this.files = files;
    this.deep = deep;
  }

  madeOf(one: SlotOutcome, cell: number, view: View, depth = 0): readonly Branch[] {
    const formula = depth < this.deep ? speakingFormula(one, cell, view) : null;
    if (!formula) return [];
    const named = new Set<string>();
    return inputsOf(this.outcome, formula, one, placesOf(one.axes, cell), view).flatMap((input) => {
      const name = `${this.nameOf(input.one, input.places)}${input.view === view ? '' : ` ${viewLabels[input.view]}`}`;
      if (named.has(name)) return [];
      named.add(name);
      const single = singleCell(input);
      const figure = `${name} = ${textOfRead(this.outcome, input)}`;
      const from = single === null ? '' : `: ${originText(input.one, single, input.view, this.files)}`;
      const origin = originOf(input.one, single, input.view);
      const key = `made ${input.one.slot.id} ${single} ${input.view}`;
      return this.branch(key, `${figure}${from}`, origin, () =>
        single === null ? [] : this.madeOf(input.one, single, input.view, depth + 1),
      );
    });
  }

  usedBy(one: SlotOutcome, places: readonly (number | null)[], depth = 0): readonly Branch[] {
    if (depth >= this.deep) return [];
    const users = usersOf(this.outcome, one, places);
    const known = users.filter(({ isKnown }) => isKnown);
    const unknown = users.length - known.length;
    return [
      ...checksOn(this.outcome, one).flatMap((check) =>
        this.branch(`check ${check.id}`, checkText(this.outcome, check), check.origin, () => []),
      ),
      ...known.flatMap(({ one: user, places: at }) => {
        const read = { one: user, places: at, view: 'measured' } as const;
        const text = `${this.nameOf(user, at)} = ${textOfRead(this.outcome, read)}`;
        const origin = originOf(user, singleCell(read), 'measured');
        return this.branch(`uses ${user.slot.id} ${at.join()}`, text, origin, () => this.usedBy(user, at, depth + 1));
      }),
      ...(depth === 0 && unknown > 0
        ? this.branch('', `${unknown} more, without a figure so far`, null, () => [])
        : []),
    ];
  }

  private branch(key: string, text: string, origin: Origin | null, children: () => readonly Branch[]): Branch[] {
    if (this.left === 0) return [];
    this.left -= 1;
    if (this.left === 0) return [{ text: 'and more', origin: null, children: [] }];
    const before = this.told.get(key);
    if (before === undefined) {
      const under = children();
      this.told.set(key, under.length > 0);
      return [{ text, origin, children: under }];
    }
    return [{ text: before ? `${text} (taken apart above)` : text, origin, children: [] }];
  }

  private nameOf(one: SlotOutcome, places: readonly (number | null)[]): string {
    return address(this.outcome.binding.schema, one.slot, one.axes, places);
  }
}

export function checkText(outcome: Outcome, check: CheckOutcome): string {
  const sort = check.kind === 'rule' ? 'rule' : check.kind === 'expect' ? 'expected' : 'size asked for';
  return `${capitalised(sort)}: ${headline(outcome, check)}`;
}
