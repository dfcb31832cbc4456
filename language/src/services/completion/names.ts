/** Names, choices, places, parts and functions in an expression: all that could be meant is tried, what fits is offered. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { SlotId } from '../../semantics/ir.ts';
import { slotsIn } from '../../semantics/reads.ts';
import type { Draft } from '../../semantics/schema/draft.ts';
import { builtins, type Builtin } from '../../semantics/types/builtins.ts';
import type { Ground } from '../../semantics/bind/build.ts';
import type { Found } from './probe.ts';
import type { Offer } from './offer.ts';
import { escaped } from './snippets.ts';
import type { Trial } from './trial.ts';
import { typeText } from './type-text.ts';

interface Candidate extends Offer {
  readonly steps: readonly string[];
  readonly text?: string;
  /** Figures of one sort and shape fit the same places: one of them is tried for all. */
  readonly alike?: string;
}

const isPlainName = (name: string): boolean => /^[A-Za-z_]\w*(-\w+)*$/.test(name);

export function namesAt(found: Found, trial: Trial, ground: Ground): Offer[] {
  const step = found.node as ast.RefStep;
  const ref = step.$container as ast.Ref;
  const place = new Place(ref, ref.steps.indexOf(step), step);
  place.put([]);
  trial.settle();
  const own = ownSlot(found.node, trial);
  const kept = own === null ? new Set<SlotId>() : readersOf(own, trial.draft);
  if (step.call) return functionNames(ground).filter(({ label }) => fits(place, [label], trial));
  const candidates = place.at > 0 ? inside(place, trial, kept) : everywhere(trial, ground, kept, found.node);
  const known = new Map<string, boolean>();
  const others = keysBeside(ref);
  const fitting = candidates.filter(({ label, steps, text, alike }) => {
    if (others.has(label) || (alike !== undefined && isKey(ref))) return false;
    if (text !== undefined) return fitsText(place, text, trial);
    const fit = (alike === undefined ? undefined : known.get(alike)) ?? fits(place, steps, trial);
    if (alike !== undefined) known.set(alike, fit);
    return fit;
  });
  const takesFigures = fitting.some(({ alike }) => alike !== undefined);
  return [...fitting, ...(place.at > 0 || !takesFigures ? [] : calls(place, trial, fitting, kept))];
}

/** A name before a colon in a list, or in the brackets of a path: it is a place on an axis, never a figure. */
function isKey(ref: ast.Ref): boolean {
  const entry = ref.$container;
  return (
    entry?.$type === 'Entry' &&
    ((entry.item !== undefined && entry.value === ref) || entry.$container?.$type === 'PathStep')
  );
}

/** Where the word names a place in a list: those that the list names already. */
function keysBeside(ref: ast.Ref): Set<string> {
  const entry = ref.$container;
  if (entry?.$type !== 'Entry' || !entry.item || entry.value !== ref || entry.$container?.$type !== 'List')
    return new Set();
  const keys = entry.$container.entries.filter((other) => other !== entry && other.item).map(({ value }) => value);
  return new Set(keys.flatMap((key) => (key.$type === 'Ref' && key.steps.length === 1 ? [key.steps[0]!.name] : [])));
}

/** The place of the word in its path; other words can be put there. */
class Place {
  readonly ref: ast.Ref;
  readonly at: number;
  readonly before: readonly ast.RefStep[];
  private readonly word: ast.RefStep;

  constructor(ref: ast.Ref, at: number, word: ast.RefStep) {
    this.ref = ref;
    this.at = at;
    this.before = ref.steps.slice(0, at);
    this.word = word;
  }

  put(names: readonly string[], call?: ast.Call): void {
    const steps = names.map((name): ast.RefStep => ({ $type: 'RefStep', $container: this.ref, name, keys: [] }));
    const last = steps.at(-1) ?? { ...this.word, name: '' };
    const made: ast.RefStep = {
      ...last,
      keys: this.word.keys,
      ...((call ?? this.word.call) ? { call: call ?? this.word.call! } : {}),
    };
    this.ref.steps = [...this.before, ...steps.slice(0, -1), made];
  }
}

function fits(place: Place, names: readonly string[], trial: Trial, call?: ast.Call): boolean {
  place.put(names, call);
  return trial.fits();
}

/** A part whose name is no plain word is written in quotes: its place in the tree is another. */
function fitsText({ ref }: Place, text: string, trial: Trial): boolean {
  const holder = ref.$container as unknown as Record<string, unknown>;
  const property = ref.$containerProperty ?? '';
  if (holder[property] !== ref) return false;
  holder[property] = { $type: 'Text', text, $container: ref.$container } as ast.Text;
  const fit = trial.fits();
  holder[property] = ref;
  return fit;
}

function everywhere(trial: Trial, ground: Ground, kept: ReadonlySet<SlotId>, at: AstNode): Candidate[] {
  const { draft, mount } = trial;
  const { parts } = ground.setting;
  const known = new Map<string, Candidate>();
  const add = (candidate: Candidate): void =>
    void (known.has(candidate.label) || known.set(candidate.label, candidate));
  for (const name of localsRound(at)) add({ label: name, steps: [name], kind: 6, rank: 1 });
  for (const { type } of draft.slots)
    if (type.is === 'choice') for (const name of type.names) add({ label: name, steps: [name], kind: 20, rank: 0 });
  for (const { labels } of draft.axes)
    for (const name of labels ?? []) add({ label: name, steps: [name], kind: 20, rank: 0 });
  for (const name of parts.names()) {
    const subject = { is: 'part', name } as const;
    const kind = parts.find(name)?.item.kind;
    const detail = kind === undefined ? {} : { detail: kind };
    if (isPlainName(name)) add({ label: name, steps: [name], kind: 7, rank: 0, subject, ...detail });
    else add({ label: `"${name}"`, steps: [], text: name, kind: 7, rank: 0, subject, ...detail });
  }
  for (const name of draft.axisNames(mount))
    add({ label: name, steps: [name], kind: 13, rank: 3, subject: { is: 'axis', name } });
  for (const name of draft.namesSeen(mount))
    for (const one of paths(draft, draft.lookUp(name, mount), [name], kept)) add(one);
  const words = [
    'was',
    'yes',
    'no',
    'pi',
    ...(at.$container?.$container?.$type === 'Entry' ? ['others', '_'] : []),
    ...noneAt(at, trial),
  ];
  for (const name of words) add({ label: name, steps: [name], kind: 14, rank: 4 });
  return [...known.values()];
}

/** `x: none` takes a part off that need not be there. */
function noneAt(at: AstNode, { draft, mount }: Trial): string[] {
  const given = at.$container?.$container;
  if (given?.$type !== 'Given') return [];
  const found = resolved((given as ast.Given).path, draft, mount);
  return found?.is === 'mount' && draft.mounts[found.mount]!.optional ? ['none'] : [];
}

/** What a path inside a body leads to. */
function resolved(path: ast.Path | undefined, draft: Draft, mount: number): ReturnType<Draft['inside']> {
  let found: ReturnType<Draft['inside']> = { is: 'mount', mount };
  for (const { name } of path?.steps ?? []) found = found?.is === 'mount' ? draft.inside(found.mount, name) : null;
  return found;
}

function inside({ before }: Place, { draft, mount }: Trial, kept: ReadonlySet<SlotId>): Candidate[] {
  let found = draft.lookUp(before[0]?.name ?? '', mount);
  for (const { name } of before.slice(1)) found = found?.is === 'mount' ? draft.inside(found.mount, name) : null;
  if (found?.is !== 'mount') return [];
  const { mount: within } = found;
  return draft.namesInside(within).flatMap((name) => paths(draft, draft.inside(within, name), [name], kept));
}

/** A figure by its name, a part by the figures in it. Nearer ones come first. */
function paths(
  draft: Draft,
  found: ReturnType<Draft['inside']>,
  steps: readonly string[],
  kept: ReadonlySet<SlotId>,
): Candidate[] {
  if (!found) return [];
  if (found.is === 'slot') {
    const slot = draft.slots[found.slot]!;
    if (kept.has(slot.id)) return [];
    const subject = { is: 'slot', name: slot.path } as const;
    return [
      {
        label: steps.join('.'),
        steps,
        kind: slot.sort === 'derive' ? 5 : 10,
        rank: steps.length > 1 ? 2 : 1,
        detail: typeText(slot, draft),
        alike: `${sortOf(slot)} ${steps.length > 1}`,
        subject,
      },
    ];
  }
  const { mount } = found;
  return draft.namesInside(mount).flatMap((name) => paths(draft, draft.inside(mount, name), [...steps, name], kept));
}

function sortOf({ type, axes, features, sort }: Draft['slots'][number]): string {
  const kind =
    type.is === 'measure' || type.is === 'limits'
      ? `${type.measure.dimension.key} ${type.measure.kind}`
      : type.is === 'choice'
        ? type.names.join('|')
        : JSON.stringify(type);
  return `${type.is} ${kind} per ${axes.join(' ')} ${sort} ${features.join(' ')}`;
}

function localsRound(at: AstNode): string[] {
  const names: string[] = [];
  for (let step: AstNode | undefined = at; step; step = step.$container) {
    if (step.$type === 'Derive' || step.$type === 'FunctionDeclaration')
      names.push(...((step as ast.Derive).where?.locals ?? []).map(({ name }) => name));
    if (step.$type === 'FunctionDeclaration')
      names.push(...(step as ast.FunctionDeclaration).parameters.map(({ name }) => name));
    if (step.$type === 'Solve') names.push(...(step as ast.Solve).unknowns.map(({ name }) => name));
  }
  const own = ownLocal(at);
  return names.filter((name) => name && name !== own);
}

function ownLocal(at: AstNode): string | null {
  for (let step: AstNode | undefined = at; step; step = step.$container)
    if (step.$type === 'Local') return (step as ast.Local).name;
  return null;
}

/** The slot whose figure or formula is being written. */
function ownSlot(at: AstNode, { draft, mount }: Trial): SlotId | null {
  for (let step: AstNode | undefined = at; step; step = step.$container) {
    if (step.$type === 'Derive' || step.$type === 'Property') {
      const found = draft.inside(mount, (step as ast.Derive).name);
      return found?.is === 'slot' ? found.slot : null;
    }
    if (step.$type !== 'Given') continue;
    let found: ReturnType<Draft['inside']> = { is: 'mount', mount };
    for (const { name } of (step as ast.Given).path?.steps ?? [])
      found = found?.is === 'mount' ? draft.inside(found.mount, name) : null;
    return found?.is === 'slot' ? found.slot : null;
  }
  return null;
}

/** A slot with all that is made from it: none of them can stand in its own formula. */
function readersOf(slot: SlotId, draft: Draft): Set<SlotId> {
  const readers = new Map<SlotId, SlotId[]>();
  for (const { id, formula, measuredBy } of draft.slots)
    for (const expr of [formula, measuredBy])
      if (expr) for (const read of slotsIn(expr)) readers.set(read, [...(readers.get(read) ?? []), id]);
  const found = new Set([slot]);
  for (const at of found) for (const reader of readers.get(at) ?? []) found.add(reader);
  return found;
}

function functionNames({ setting }: Ground): Offer[] {
  const own = [...setting.library.functions.keys()].map((name): Offer => ({
    label: name,
    kind: 3,
    rank: 1,
    subject: { is: 'function', name },
  }));
  return [
    ...own,
    ...[...builtins].map(([name, builtin]): Offer => ({
      label: name,
      kind: 3,
      rank: 2,
      detail: builtin.call,
      subject: { is: 'builtin', name },
    })),
  ];
}

/** A function is offered with something in it that fits: what is left in brackets can be written over. */
function calls(place: Place, trial: Trial, fitting: readonly Candidate[], kept: ReadonlySet<SlotId>): Offer[] {
  const likely = [
    ...fitting
      .filter(({ kind }) => kind === 5 || kind === 10)
      .map(({ label }) => label)
      .slice(0, 3),
    ...representatives(trial, kept),
  ];
  return [...builtins].flatMap(([name, builtin]) => {
    const written = callOf(name, builtin, likely, place, trial);
    return written === null
      ? []
      : [
          {
            label: name,
            kind: 3 as const,
            rank: 5,
            snippet: written,
            detail: builtin.call,
            subject: { is: 'builtin' as const, name },
          },
        ];
  });
}

function callOf(
  name: string,
  { shape }: Builtin,
  likely: readonly string[],
  place: Place,
  trial: Trial,
): string | null {
  if (shape === 'special' || shape === 'curve') return null;
  for (const path of likely) {
    const over = shape === 'reduction' || shape === 'along' ? axesOf(path, trial) : [];
    for (const axis of over.length === 0 ? [null] : over) {
      if (!fits(place, [name], trial, madeCall(place.ref, path, axis))) continue;
      return `${name}(\${1:${escaped(path)}}${axis === null ? '' : ` over \${2:${axis}}`})`;
    }
  }
  return null;
}

function madeCall(round: AstNode, path: string, axis: string | null): ast.Call {
  const made = (text: string): ast.Ref => {
    const ref = { $type: 'Ref', $container: round, steps: [] as ast.RefStep[] } as unknown as ast.Ref;
    ref.steps = text.split('.').map((name) => ({ $type: 'RefStep', $container: ref, name, keys: [] }));
    return ref;
  };
  return {
    $type: 'Call',
    $container: round,
    args: [made(path)],
    over: axis === null ? [] : [made(axis)],
    to: [],
  } as unknown as ast.Call;
}

/** One figure for each sort and shape that there is, nearest first. */
function representatives({ draft, mount }: Trial, kept: ReadonlySet<SlotId>): string[] {
  const seen = new Map<string, string>();
  for (const name of draft.namesSeen(mount))
    for (const { label } of paths(draft, draft.lookUp(name, mount), [name], kept)) {
      const slot = slotAt(label, draft, mount);
      if (slot?.type.is !== 'measure' && slot?.type.is !== 'flag') continue;
      const key = sortOf(slot);
      if (!seen.has(key)) seen.set(key, label);
    }
  return [...seen.values()].slice(0, 24);
}

function slotAt(path: string, draft: Draft, mount: number): Draft['slots'][number] | null {
  const [first = '', ...rest] = path.split('.');
  let found = draft.lookUp(first, mount);
  for (const name of rest) found = found?.is === 'mount' ? draft.inside(found.mount, name) : null;
  return found?.is === 'slot' ? draft.slots[found.slot]! : null;
}

function axesOf(path: string, { draft, mount }: Trial): string[] {
  return (slotAt(path, draft, mount)?.axes ?? [])
    .map((axis) => draft.axes[axis]?.name ?? '')
    .filter((name) => name !== '');
}
