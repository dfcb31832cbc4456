/** Functions: by their names before a bracket, or with something in it that fits. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Ground } from '../../semantics/bind/build.ts';
import type { SlotId } from '../../semantics/ir.ts';
import type { Draft } from '../../semantics/schema/draft.ts';
import { builtins, type Builtin } from '../../semantics/types/builtins.ts';
import { paths, sortOf, type Candidate } from './candidates.ts';
import type { Breathe, Offer } from './offer.ts';
import { escaped } from './snippets.ts';
import type { Trial } from './trial.ts';
import { fits, type Place } from './word-in-path.ts';

export function functionNames({ setting }: Ground): Offer[] {
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
export async function calls(
  place: Place,
  trial: Trial,
  fitting: readonly Candidate[],
  kept: ReadonlySet<SlotId>,
  breathe: Breathe,
): Promise<Offer[]> {
  const figures = fitting.filter(({ kind }) => kind === 5 || kind === 10).map(({ label }) => label);
  const likely = [...figures.slice(0, 3), ...representatives(trial, kept, figures)];
  const offers: Offer[] = [];
  for (const [name, builtin] of builtins) {
    await breathe();
    const snippet = callOf(name, builtin, likely, place, trial);
    const subject = { is: 'builtin', name } as const;
    if (snippet !== null) offers.push({ label: name, kind: 3, rank: 5, snippet, detail: builtin.call, subject });
  }
  return offers;
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

const mostTried = 24;

/** One figure for each sort and shape that there is, nearest first; of the dimension of what fits before all others. */
function representatives({ draft, mount }: Trial, kept: ReadonlySet<SlotId>, fitting: readonly string[]): string[] {
  const seen = new Map<string, string>();
  const due = dimensionOf(fitting[0] ?? '', draft, mount);
  for (const name of draft.namesSeen(mount))
    for (const { label } of paths(draft, draft.lookUp(name, mount), [name], kept)) {
      const slot = slotAt(label, draft, mount);
      if (slot?.type.is !== 'measure' && slot?.type.is !== 'flag') continue;
      const key = sortOf(slot);
      if (!seen.has(key)) seen.set(key, label);
    }
  const all = [...seen.values()];
  const isDue = (path: string): boolean => dimensionOf(path, draft, mount) === due;
  return [...all.filter(isDue), ...all.filter((path) => !isDue(path))].slice(0, mostTried);
}

function dimensionOf(path: string, draft: Draft, mount: number): string {
  const type = slotAt(path, draft, mount)?.type;
  return type?.is === 'measure' ? type.measure.dimension.key : (type?.is ?? '');
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
