/** What a figure is made of, and what uses it: figures by their formulas, rules by what they compare. */
import type {
  CallHierarchyIncomingCall,
  CallHierarchyItem,
  CallHierarchyOutgoingCall,
} from 'vscode-languageserver-types';
import type { AstNode } from 'langium';
import { blockRootOf } from '../grammar/file.ts';
import { stateWords } from '../report/check-words.ts';
import { textOfRead } from '../report/input-figures.ts';
import { partsOf } from '../semantics/reads.ts';
import type { Expr, SlotId } from '../semantics/ir.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import type { FileResult } from '../semantics/project.ts';
import type { Origin, Schema, SchemaRule, Slot } from '../semantics/schema/schema.ts';
import { locationOf } from './definition.ts';
import { nameGivenTo } from './figure-meant.ts';
import { meaningAt, meaningOf, placeOf, wordAt, type Meaning } from './meaning.ts';
import { toRange } from './positions.ts';
import { kinds } from './symbols.ts';
import type { Workspace } from './workspace.ts';

/** The file and the build that the question was asked in, and the figure or rule by its path. */
interface Kept {
  readonly uri: string;
  /** Null: the first of the file. */
  readonly build: string | null;
  readonly path: string;
  readonly is: 'slot' | 'rule' | 'expect';
}

export function hierarchyAt(workspace: Workspace, uri: string, offset: number): CallHierarchyItem[] | null {
  const meaning = meaningOfFigureAt(workspace, uri, offset);
  const result = workspace.result(uri);
  const schema = schemaOf(result);
  const root = meaning && blockRootOf(meaning.field.node).item;
  const here = result.outcomes.find(({ binding }) => binding.origin.at === root);
  const build = here?.binding.name ?? null;
  const items = (meaning?.things ?? []).flatMap((thing) => {
    const slot = thing.is === 'slot' ? schema.slots[thing.slot] : undefined;
    return slot?.origin.at === meaning?.declared?.at && slot ? [slotItem(workspace, { result, build }, slot)] : [];
  });
  if (items.length > 0) return items;
  const rule =
    meaning?.is === 'rule' ? schema.rules.find(({ origin }) => origin.at === meaning.declared?.at) : undefined;
  return rule ? [ruleItem(workspace, { result, build }, rule)] : null;
}

/** A number stands for the figure that it is given to. */
function meaningOfFigureAt(workspace: Workspace, uri: string, offset: number): Meaning | null {
  const meaning = meaningAt(workspace, uri, offset);
  const word = meaning ? null : wordAt(workspace, uri, offset);
  const step = word && nameGivenTo(word.field.node);
  if (!word || !step) return meaning;
  return meaningOf(workspace, workspace.result(uri), { node: step, property: 'name', index: 0 }, word.at);
}

/** What the items of one answer have in common. */
interface Round {
  readonly result: FileResult;
  readonly build: string | null;
}

/** Those that read it, and where in their formulas they do. */
export function usersOf(workspace: Workspace, item: CallHierarchyItem): CallHierarchyIncomingCall[] | null {
  const asked = found(workspace, item);
  if (!asked?.slot) return null;
  const { result, slot } = asked;
  const schema = schemaOf(result);
  const readsIt = (exprs: readonly Expr[]): AstNode[] =>
    exprs.flatMap(readsIn).flatMap((read) => (read.slot === slot.id && read.at ? [read.at] : []));
  const calls: CallHierarchyIncomingCall[] = [];
  for (const user of schema.slots) {
    const reads = readsIt(formulasOf(user));
    if (reads.length > 0)
      calls.push({ from: slotItem(workspace, asked, user), fromRanges: rangesOf(workspace, user.origin, reads) });
  }
  for (const rule of schema.rules) {
    const reads = readsIt(comparedIn(rule));
    if (reads.length > 0)
      calls.push({ from: ruleItem(workspace, asked, rule), fromRanges: rangesOf(workspace, rule.origin, reads) });
  }
  return [...calls, ...usersInBuilds(workspace, asked, slot, readsIt)];
}

/** Formulas that a build gives and what it expects: each where it is written. */
function usersInBuilds(
  workspace: Workspace,
  { result }: Round,
  { id }: Slot,
  readsIt: (exprs: readonly Expr[]) => AstNode[],
): CallHierarchyIncomingCall[] {
  return result.outcomes.flatMap((outcome) => {
    const { schema, name, assignments, expects } = outcome.binding;
    const call = (
      of: string,
      figure: string,
      origin: Origin,
      reads: readonly AstNode[],
      data: Kept,
    ): CallHierarchyIncomingCall[] => {
      if (reads.length === 0) return [];
      const detail = [figure, name].filter((one) => one !== '').join(', in ');
      const from = item(workspace, of, detail, kinds.variable, origin, data);
      return [{ from, fromRanges: rangesOf(workspace, origin, reads) }];
    };
    const given = assignments
      .filter(({ slot, origin }) => slot !== id && origin.at.$type === 'Given')
      .flatMap(({ slot, value, origin }) => {
        const { path } = schema.slots[slot]!;
        const figure = detailIn(outcome, schema.slots[slot]!);
        return call(path, figure, origin, readsIt([value]), { uri: result.uri, build: name, path, is: 'slot' });
      });
    const asked = expects
      .filter(({ inherited }) => !inherited)
      .flatMap(({ demand, origin, text }) =>
        call(`expect ${text}`, '', origin, readsIt(comparedIn({ when: null, demand })), {
          uri: result.uri,
          build: name,
          path: text,
          is: 'expect',
        }),
      );
    return [...given, ...asked];
  });
}

/** The figures that its formula reads, in the order of writing. */
export function inputsOf(workspace: Workspace, item: CallHierarchyItem): CallHierarchyOutgoingCall[] | null {
  const asked = found(workspace, item);
  if (!asked) return null;
  const { result, slot, rule } = asked;
  const schema = schemaOf(result);
  const origin = (slot ?? rule)!.origin;
  const reads = new Map<SlotId, AstNode[]>();
  for (const read of (slot ? [...formulasOf(slot), ...givenFor(result, slot)] : comparedIn(rule!)).flatMap(readsIn))
    reads.set(read.slot, [...(reads.get(read.slot) ?? []), ...(read.at ? [read.at] : [])]);
  return [...reads].map(([id, places]) => ({
    to: slotItem(workspace, asked, schema.slots[id]!),
    fromRanges: rangesOf(workspace, origin, places),
  }));
}

/** A build's own figures are in its schema alone. */
function schemaOf({ outcomes, schema }: FileResult): Schema {
  return outcomes[0]?.binding.schema ?? schema;
}

function found(
  workspace: Workspace,
  item: CallHierarchyItem,
): (Round & { readonly slot?: Slot; readonly rule?: SchemaRule }) | null {
  const kept = item.data as Kept | undefined;
  if (!kept || !workspace.source(kept.uri)) return null;
  const result = workspace.result(kept.uri);
  const schema = schemaOf(result);
  if (kept.is === 'expect') return null;
  if (kept.is === 'rule') {
    const rule = schema.rules.find(({ id }) => id === kept.path);
    return rule ? { result, build: kept.build, rule } : null;
  }
  const slot = schema.slots.find(({ path }) => path === kept.path);
  return slot ? { result, build: kept.build, slot } : null;
}

function formulasOf({ formula, measuredBy }: Slot): Expr[] {
  return [formula, measuredBy].filter((one) => one !== null);
}

/** Formulas that builds give for it. */
function givenFor({ outcomes }: FileResult, { id }: Slot): Expr[] {
  return outcomes.flatMap(({ binding }) =>
    binding.assignments.filter(({ slot }) => slot === id).map(({ value }) => value),
  );
}

function comparedIn({ when, demand }: Pick<SchemaRule, 'when' | 'demand'>): Expr[] {
  const sides = demand.comparisons.flatMap(({ value, low, high, limits }) => [value, low, high, limits]);
  return [when, ...sides, demand.flag].filter((one) => one !== null);
}

function readsIn(whole: Expr): { readonly slot: SlotId; readonly at: AstNode | null }[] {
  const reads: { slot: SlotId; at: AstNode | null }[] = [];
  const open = [whole];
  for (let expr = open.pop(); expr; expr = open.pop()) {
    if (expr.op === 'slot') reads.push({ slot: expr.slot, at: expr.at });
    open.push(...partsOf(expr).toReversed());
  }
  return reads;
}

/** Reads inside a function stand in the function's file, and are left out. */
function rangesOf(workspace: Workspace, { uri, at }: Origin, reads: readonly AstNode[]) {
  const block = blockRootOf(at);
  const positions = workspace.positionsOf(uri);
  return [...new Set(reads)]
    .filter((read) => blockRootOf(read) === block)
    .map((read) => toRange(positions, placeOf(workspace, { uri, at: read })));
}

function slotItem(workspace: Workspace, { result, build }: Round, slot: Slot): CallHierarchyItem {
  const kind = slot.sort === 'derive' ? kinds.variable : kinds.property;
  const outcome = outcomeOf(result, build);
  return item(workspace, slot.path, outcome ? detailIn(outcome, slot) : '', kind, slot.origin, {
    uri: result.uri,
    build,
    path: slot.path,
    is: 'slot',
  });
}

function ruleItem(workspace: Workspace, { result, build }: Round, rule: SchemaRule): CallHierarchyItem {
  const state = outcomeOf(result, build)?.checks.find(({ id }) => id === rule.id)?.state;
  const detail = `rule, ${state === undefined ? rule.severity : stateWords[state]}`;
  return item(workspace, rule.id, detail, kinds.event, rule.origin, {
    uri: result.uri,
    build,
    path: rule.id,
    is: 'rule',
  });
}

function outcomeOf({ outcomes }: FileResult, build: string | null): Outcome | undefined {
  return outcomes.find(({ binding }) => binding.name === build) ?? outcomes[0];
}

/** The figure in a build; of several the least and the greatest. */
function detailIn(outcome: Outcome, slot: Slot): string {
  const one = outcome.slots.find((each) => each.slot.id === slot.id);
  return one ? textOfRead(outcome, { one, places: one.axes.map(() => null), view: 'measured' }) : '';
}

function item(
  workspace: Workspace,
  name: string,
  detail: string,
  kind: CallHierarchyItem['kind'],
  origin: Origin,
  data: Kept,
): CallHierarchyItem {
  const whole = locationOf(workspace, placeOf(workspace, origin));
  const named = 'name' in origin.at ? { ...origin, property: 'name' } : origin;
  const { range } = locationOf(workspace, placeOf(workspace, named));
  return { name, detail, kind, uri: origin.uri, range: whole.range, selectionRange: range, data };
}
