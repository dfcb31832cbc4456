// Ways back from a target laid out for a reader. All figures stand in the result already.
import type { ChangeResult, GoalResult, MovedResult, WayResult } from '@thou/shared/result/solve';
import { displayUnit } from '@thou/shared/number/format';
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { Goals } from '../semantics/solve/goals.ts';
import { pathWords } from './check-words.ts';
import { listed } from './place.ts';
import type { Solved } from './solving.ts';
import { plainStyle } from './style.ts';
import type { Style } from './style.ts';
import { paragraph } from './table.ts';
import { numberText, showingsIn } from './units.ts';
import type { Showing } from './units.ts';
import { showingOfGoal } from './work-back.ts';
import { numberOf, styleOf } from './writing.ts';

const mostMoved = 8;
/** What nothing is asked of is shown where there is little else. */
const mostUnchecked = 4;

export function workBackText(outcome: Outcome, goals: Goals, result: Solved, style: Style = plainStyle): string {
  const told = new Teller(outcome, goals);
  const head = [style.title(`${result.build}: ${listed(result.goals)}`)];
  if (result.holdsAlready) return `${[...head, 'That is so already.'].join('\n')}\n`;
  const ways = result.ways.flatMap((way, at) => ['', ...told.way(way, at + 1, style)]);
  const none = result.noWays.flatMap(({ message }) => paragraph('No way: ', message));
  const nothing =
    result.ways.length === 0 && none.length === 0 ? ['Nothing that may be turned brings that about.'] : [];
  return `${[...head, ...told.now(result), ...ways, ...(none.length === 0 ? [] : ['', ...none]), ...nothing].join('\n')}\n`;
}

/** Knows how each figure of the build is shown. */
class Teller {
  private readonly outcome: Outcome;
  private readonly goals: Goals;

  constructor(outcome: Outcome, goals: Goals) {
    this.outcome = outcome;
    this.goals = goals;
  }

  now({ ways }: Solved): string[] {
    const [first] = ways;
    if (first === undefined) return [];
    return first.goals.map((goal, at) => `  now ${this.subject(at)} ${this.span(goal.before, at)}`);
  }

  way(way: WayResult, number: number, style: Style): string[] {
    const changes = listed(way.changes.map((change) => this.change(change)));
    const brings = listed(way.goals.map((goal, at) => `${this.subject(at)} to ${this.span(goal.after, at)}`));
    const others = way.moved.filter(({ path }) => !this.isGoal(path));
    const checked = others.filter(({ checked: isChecked }) => isChecked).slice(0, mostMoved);
    const free = others.filter(({ checked: isChecked }) => !isChecked);
    const shown = [...checked, ...free.slice(0, Math.max(0, mostUnchecked - checked.length))];
    const more = others.length - shown.length;
    const moved = [...shown.map((one) => this.moved(one)), ...(more > 0 ? [`${more} more`] : [])];
    return [
      ...paragraph(`${number}. `, changes).map((line, at) => (at === 0 ? style.title(line) : line)),
      ...paragraph('   brings ', brings),
      ...(moved.length === 0 ? [] : paragraph('   moves ', moved.join(', '))),
      ...way.worse.flatMap(({ after, message }) =>
        paragraph(after === 'out-of-limits' ? '   goes out: ' : '   comes to be at risk: ', message),
      ),
      ...way.better.flatMap(({ message }) => paragraph('   mends: ', message)),
      ...(way.worse.length === 0 ? ['   nothing goes out by it'] : []),
    ];
  }

  private isGoal(path: string): boolean {
    const { slots } = this.outcome.binding.schema;
    return this.goals.all.some(({ comparison }) => comparison.slot !== null && slots[comparison.slot]?.path === path);
  }

  private subject(at: number): string {
    const { comparison, text } = this.goals.all[at]!;
    const slot = comparison.slot === null ? undefined : this.outcome.binding.schema.slots[comparison.slot];
    return slot === undefined ? text.split(/\s*(?:=|<|>|\bwithin\b)/)[0]! : pathWords(slot.path);
  }

  private span(figures: GoalResult['after'], at: number): string {
    if (figures === null) return 'no figure';
    return span(figures, showingOfGoal(this.outcome, this.goals.all[at]!));
  }

  /** `shim.thickness 0.040 → 0.043 in, as of KX-43`; places that become alike are told together. */
  private change({ path, cells, part, bought }: ChangeResult): string {
    const one = this.outcome.slots.find(({ slot }) => slot.path === path)!;
    const style = styleOf(this.outcome, one.slot.id, 0);
    const unit = style.unit === null ? '' : ` ${displayUnit(style.unit.symbol)}`;
    const groups = new Map<string, string[]>();
    for (const { at, from, to } of cells) {
      const text = `${numberOf(from, style)} → ${numberOf(to, style)}${unit}`;
      groups.set(text, [...(groups.get(text) ?? []), Object.values(at).join(', ')]);
    }
    const alike = groups.size === 1;
    const texts = [...groups].map(([text, places]) => (alike ? text : `[${places.join('; ')}] ${text}`));
    const size = alike ? cellsInAll(one.axes) : 1;
    const where = alike && cells.length < size ? `[${[...groups.values()][0]!.join('; ')}]` : '';
    return `${path}${where} ${texts.join(', ')}${part !== null ? ` (${part})` : bought ? ' (no part in sight has this size)' : ''}`;
  }

  private moved({ path, from, to }: MovedResult): string {
    const one = this.outcome.slots.find(({ slot }) => slot.path === path)!;
    const [showing] = showingsIn(this.outcome, one.slot);
    return `${pathWords(path)} ${numberText(from, showing!)} → ${withUnitOf(to, showing!)}`;
  }
}

function cellsInAll(axes: readonly { readonly size: number }[]): number {
  return axes.reduce((count, { size }) => count * size, 1);
}

function span([least, most]: readonly [number, number], showing: Showing): string {
  const [from, to] = [numberText(least, showing), numberText(most, showing)];
  return from === to ? withUnitOf(most, showing) : `${from}..${withUnitOf(most, showing)}`;
}

function withUnitOf(value: number, showing: Showing): string {
  const unit = showing.unit === null ? '' : displayUnit(showing.unit.symbol);
  return [numberText(value, showing), unit].filter((part) => part !== '').join(' ');
}
