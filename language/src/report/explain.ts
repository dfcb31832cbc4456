// How one figure comes about: its formula with the figures put in, where each figure comes from, its views, its limits.
// Reads outcomes and texts; computes no figure.
import type { AstNode } from 'langium';
import { rangeOf, sourceText } from '../grammar/file.ts';
import type { Range } from '../grammar/places.ts';
import type { View } from '../semantics/ir.ts';
import type { CheckOutcome, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import { address, cellAt, cellCount, cellsInWords, placesOf } from './cells.ts';
import { bareText, figureOf, figureText } from './figures.ts';
import { stateWords } from './check-words.ts';
import { isFinding, tell } from './findings.ts';
import { followsLines } from './follows.ts';
import { textOfRead } from './input-figures.ts';
import { inputsOf, singleCell, speakingFormula } from './inputs.ts';
import type { Input } from './inputs.ts';
import { locate } from './locate.ts';
import {
  capitalised,
  docText,
  enclosing,
  localsOf,
  placeInWords,
  onOneLine,
  sourceLine,
  textOf,
  words,
} from './place.ts';
import type { Files } from './place.ts';
import { originText, stepLines } from './provenance.ts';
import { viewLabels } from './rows.ts';
import { aligned, paragraph, table } from './table.ts';
import { sensitivityLines } from './unsureness.ts';

export interface ExplainOptions {
  /** How many steps back; 1 names the inputs alone. */
  readonly deep: number;
  /** What makes it unsure and what moves it, too. */
  readonly sensitivities?: boolean;
  /** What follows when it changes by so many of its last digits, too. */
  readonly moves?: number;
  readonly files: Files;
}

const views: readonly View[] = ['specified', 'ordered', 'before', 'measured'];

export function explain(
  outcome: Outcome,
  name: string,
  options: ExplainOptions,
): string[] | { readonly problem: string } {
  const located = locate(outcome, name);
  if ('problem' in located) return located;
  const { one } = located;
  if (cellCount(one.axes) === 0)
    return { problem: `${one.slot.path} has no place yet: the size of its axis is missing.` };
  const places = located.places.map((place) => place ?? 0);
  const cell = cellAt(one.axes, places);
  const unnamed = located.places.includes(null) && cellCount(one.axes) > 1;
  return [
    ...heading(outcome, one, cell),
    ...(unnamed ? everywhere(outcome, one, cell) : []),
    ...formulaLines(outcome, one, cell, 'measured', options),
    ...inputLines(outcome, one, cell, options),
    ...stepLines(outcome, one, cell, options.files),
    ...viewLines(outcome, one, cell),
    ...(options.sensitivities ? sensitivityLines(outcome, one, cell, options.files) : []),
    ...(options.moves === undefined ? [] : followsLines(outcome, one, cell, options.moves)),
    ...limitLines(outcome, one, cell, options.files),
    ...sourceLines(one),
  ];
}

function nameOf(outcome: Outcome, one: SlotOutcome, places: readonly (number | null)[]): string {
  return address(outcome.binding.schema, one.slot, one.axes, places);
}

function heading(outcome: Outcome, one: SlotOutcome, cell: number): string[] {
  const name = nameOf(outcome, one, placesOf(one.axes, cell));
  const figure = figureText(figureOf(outcome, one, cell, 'measured'));
  const doc = docText(one.slot.doc);
  return [
    `${name} = ${figure}`,
    ...(doc === '' ? [] : doc.split('\n').map((line) => `  ${line.trim()}`)),
    `  ${stateText(one, cell)}`,
  ];
}

export function stateText(one: SlotOutcome, cell: number): string {
  const state = one.states[cell] ?? 'missing';
  if (state === 'measured') return 'Measured.';
  if (state === 'carried-over') return 'Carried over from an earlier reading.';
  if (state === 'ordered') return 'As ordered, not measured since.';
  if (state === 'missing') return 'Missing: something it needs is not given.';
  if (state === 'not-applicable') return 'Does not apply to this build.';
  return one.slot.sort === 'derive' ? 'On paper: not everything that it rests on is measured.' : 'As specified.';
}

const mostListed = 24;

function everywhere(outcome: Outcome, one: SlotOutcome, cell: number): string[] {
  const count = cellCount(one.axes);
  const name = nameOf(outcome, one, placesOf(one.axes, cell));
  const rows = Array.from({ length: Math.min(count, mostListed) }, (_, at) => [
    `  ${cellsInWords(one.axes, [placesOf(one.axes, at)])}`,
    figureText(figureOf(outcome, one, at, 'measured')),
  ]);
  const more = count > mostListed ? [`  and ${count - mostListed} more`] : [];
  const names = rows.map(([head]) => head!);
  const figures = aligned(
    rows.map(([, figure]) => figure!),
    'point',
  );
  const listedRows = table(
    names.map((head, at) => [head, figures[at]!]),
    ['left', 'left'],
  );
  return ['', 'Everywhere', ...listedRows, ...more, '', `In detail for ${name}:`];
}

export function formulaLines(
  outcome: Outcome,
  one: SlotOutcome,
  cell: number,
  view: View,
  options: Pick<ExplainOptions, 'files'>,
): string[] {
  const formula = speakingFormula(one, cell, view);
  const text = textOf(formula?.at);
  if (!formula?.at || text === null) return [];
  const inputs = inputsOf(outcome, formula, one, placesOf(one.axes, cell), view);
  const place = placeInWords(options.files.placeOf({ uri: one.slot.origin.uri, at: formula.at }));
  const substituted = withFigures(formula.at, inputs, outcome);
  return [
    '',
    `Formula${place === '' ? '' : ` (${place})`}`,
    ...paragraph('  ', text),
    ...localsOf(one.slot).flatMap((local) => paragraph('    where ', textOf(local) ?? '')),
    ...(substituted === text ? [] : paragraph('  = ', substituted)),
    ...localsOf(one.slot).flatMap((local) => {
      const figures = withFigures(local, inputs, outcome);
      return figures === textOf(local) ? [] : paragraph('    where ', figures);
    }),
    `  = ${figureText(figureOf(outcome, one, cell, view))}`,
  ];
}

/** The formula's text with the figure in the place of every name that means one figure. */
function withFigures(formula: AstNode, inputs: readonly Input[], outcome: Outcome): string {
  const whole = rangeOf(formula);
  let text = sourceText(formula);
  const replacements = inputs.flatMap((input) => {
    const name = input.at && enclosing(input.at, 'Ref');
    const figure = figureOfInput(input, outcome);
    return name && figure !== null && isInside(name, formula) ? [{ ...rangeOf(name), figure }] : [];
  });
  const outermost = replacements.filter((one) => !replacements.some((other) => holds(other, one)));
  for (const { start, end, figure } of outermost.sort((a, b) => b.start - a.start)) {
    text = text.slice(0, start - whole.start) + figure + text.slice(end - whole.start);
  }
  return onOneLine(text);
}

function holds(outer: Range, inner: Range): boolean {
  return outer.start <= inner.start && inner.end <= outer.end && outer.end - outer.start > inner.end - inner.start;
}

function isInside(node: AstNode, formula: AstNode): boolean {
  for (let step: AstNode | undefined = node; step; step = step.$container) if (step === formula) return true;
  return false;
}

function figureOfInput(input: Input, outcome: Outcome): string | null {
  const cell = singleCell(input);
  if (cell === null) return null;
  const figure = figureOf(outcome, input.one, cell, input.view);
  if (figure.number === '—') return null;
  return [figure.number, figure.unit].filter((part) => part !== '').join(' ');
}

function nameOfCheck({ kind, id, rule }: CheckOutcome): string {
  return kind === 'to-size' ? 'size asked for' : kind === 'expect' ? id : words(rule?.name ?? id);
}

/** One line an input, those of derived inputs under them. */
function inputLines(outcome: Outcome, one: SlotOutcome, cell: number, options: ExplainOptions): string[] {
  const rows: [string, string, string][] = [];
  const told = new Set<string>();
  const visit = (each: SlotOutcome, at: number, depth: number, inView: View): void => {
    const formula = depth < options.deep ? speakingFormula(each, at, inView) : null;
    if (!formula) return;
    for (const input of inputsOf(outcome, formula, each, placesOf(each.axes, at), inView)) {
      const name = nameOf(outcome, input.one, input.places);
      const key = `${depth} ${each.slot.id} ${at} ${name} ${input.view}`;
      if (told.has(key)) continue;
      told.add(key);
      const single = singleCell(input);
      const view = input.view === inView ? '' : ` ${viewLabels[input.view]}`;
      rows.push([
        '  '.repeat(depth + 1) + name + view,
        textOfRead(outcome, input),
        single === null ? '' : originText(input.one, single, input.view, options.files),
      ]);
      if (single !== null) visit(input.one, single, depth + 1, input.view);
    }
  };
  visit(one, cell, 0, 'measured');
  if (rows.length === 0) return [];
  const figures = aligned(
    rows.map(([, figure]) => figure),
    'point',
  );
  return [
    '',
    'Made of',
    ...table(
      rows.map(([name, , from], at) => [name, figures[at]!, from]),
      ['left', 'left', 'left'],
    ),
  ];
}

function viewLines(outcome: Outcome, one: SlotOutcome, cell: number): string[] {
  const texts = views.map((view) => bareText(figureOf(outcome, one, cell, view)));
  if (texts.every((text) => text === texts[0])) return [];
  const figures = aligned(texts, 'point');
  return [
    '',
    'Step by step',
    ...table(
      views.map((view, at) => [`  ${viewLabels[view]}`, figures[at]!]),
      ['left', 'left'],
    ),
  ];
}

export function limitLines(outcome: Outcome, one: SlotOutcome, cell: number, files: Files): string[] {
  const checks = outcome.checks.filter((check) => check.slot?.id === one.slot.id && check.state !== 'not-applicable');
  if (checks.length === 0) return [];
  const places = placesOf(one.axes, cell);
  const lines = checks.flatMap((check) => {
    const told = tell(outcome, check, files);
    const here = check.cells.find(({ places: at }) =>
      check.axes.every((axis, index) => {
        const own = one.axes.findIndex(({ id }) => id === axis.id);
        return own < 0 || places[own] === at[index];
      }),
    );
    const state = `  ${capitalised(nameOfCheck(check))}: ${stateWords[here?.state ?? check.state]}`;
    const wanted =
      here && isFinding(here)
        ? told.lines
        : told.lines.filter(({ label }) => label === 'Limits' || label === 'Missing');
    return [state, ...wanted.flatMap(({ label, text }) => paragraph(`    ${label}: `, text))];
  });
  return ['', 'Limits', ...lines];
}

function sourceLines({ slot }: SlotOutcome): string[] {
  const source = sourceLine(slot.doc);
  return source === null ? [] : ['', ...paragraph('Source: ', source)];
}
