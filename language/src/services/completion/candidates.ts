/** All names that could be meant at a place, nearest first: nothing is tried here. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Ground } from '../../semantics/bind/build.ts';
import type { SlotId } from '../../semantics/ir.ts';
import { slotsIn } from '../../semantics/reads.ts';
import type { Draft } from '../../semantics/schema/draft.ts';
import type { Offer } from './offer.ts';
import type { Trial } from './trial.ts';
import { typeText } from './type-text.ts';
import type { Place } from './word-in-path.ts';

export interface Candidate extends Offer {
  readonly steps: readonly string[];
  readonly text?: string;
  /** Figures of one sort and shape fit the same places: one of them is tried for all. */
  readonly alike?: string;
}

const isPlainName = (name: string): boolean => /^[A-Za-z_]\w*(-\w+)*$/.test(name);

export function everywhere(trial: Trial, ground: Ground, kept: ReadonlySet<SlotId>, at: AstNode): Candidate[] {
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

export function inside({ before }: Place, { draft, mount }: Trial, kept: ReadonlySet<SlotId>): Candidate[] {
  let found = draft.lookUp(before[0]?.name ?? '', mount);
  for (const { name } of before.slice(1)) found = found?.is === 'mount' ? draft.inside(found.mount, name) : null;
  if (found?.is !== 'mount') return [];
  const { mount: within } = found;
  return draft.namesInside(within).flatMap((name) => paths(draft, draft.inside(within, name), [name], kept));
}

/** A figure by its name, a part by the figures in it. Nearer ones come first. */
export function paths(
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

export function sortOf({ type, axes, features, sort }: Draft['slots'][number]): string {
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
export function ownSlot(at: AstNode, { draft, mount }: Trial): SlotId | null {
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
export function readersOf(slot: SlotId, draft: Draft): Set<SlotId> {
  const readers = new Map<SlotId, SlotId[]>();
  for (const { id, formula, measuredBy } of draft.slots)
    for (const expr of [formula, measuredBy])
      if (expr) for (const read of slotsIn(expr)) readers.set(read, [...(readers.get(read) ?? []), id]);
  const found = new Set([slot]);
  for (const at of found) for (const reader of readers.get(at) ?? []) found.add(reader);
  return found;
}
