/** Words that a place has a closed list of: types, axes, components, features, notes, units, checks to accept. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import { namedMeasures } from '@thou/shared/dimension/types';
import type { Ground } from '../../semantics/bind/build.ts';
import { instrumentComponent } from '../../semantics/bind/instruments.ts';
import type { CheckOutcome, Outcome } from '../../semantics/plan/outcome.ts';
import { checkAt, limitsToAccept } from '../../report/accepting.ts';
import { worstOf } from '../../report/check-words.ts';
import type { Offer } from './offer.ts';
import { PROBE, PROBE_DATE, type Found } from './probe.ts';
import { newestDate } from './members.ts';
import { escaped, oneOf } from './snippets.ts';
import type { Trial } from './trial.ts';

const isPlainName = (name: string): boolean => /^[A-Za-z_]\w*(-\w+)*$/.test(name);
const written = (name: string): string => (isPlainName(name) ? name : `"${name}"`);

/** Units: symbols, and the products that the trade writes. Only what fits is left. */
export function unitsAt({ node, property }: Found, trial: Trial, { setting }: Ground): Offer[] {
  const holder = node as unknown as Record<string, unknown>;
  holder[property] = undefined;
  trial.settle();
  const { units } = setting.library;
  const products = [...namedMeasures.values(), ...setting.library.measures.values()].flatMap(({ dimension }) =>
    units.offered(dimension).map(({ symbol }) => symbol),
  );
  const due = dueUnits(node, trial, setting.library.units);
  return [...new Set([...due, ...products, ...units.symbols()])]
    .filter((symbol) => {
      holder[property] = symbol;
      return trial.fits();
    })
    .map((symbol) => ({ label: symbol, kind: 11, rank: due.includes(symbol) ? 0 : 1 }));
}

/** The units that the figure is shown in come first. */
function dueUnits(node: AstNode, { draft, mount }: Trial, units: Ground['setting']['library']['units']): string[] {
  for (let step: AstNode | undefined = node; step; step = step.$container) {
    if (step.$type !== 'Given') continue;
    let found: ReturnType<typeof draft.inside> = { is: 'mount', mount };
    for (const { name } of (step as ast.Given).path?.steps ?? [])
      found = found?.is === 'mount' ? draft.inside(found.mount, name) : null;
    if (found?.is !== 'slot') return [];
    const { type, shown } = draft.slots[found.slot]!;
    const own = shown.flatMap(({ unit }) => (unit ? [unit.symbol] : []));
    return type.is === 'measure' || type.is === 'limits'
      ? [...own, ...units.offered(type.measure.dimension).map(({ symbol }) => symbol)]
      : own;
  }
  return [];
}

/** A type, tried against the formula behind it. */
export function typesAt({ node }: Found, trial: Trial, { setting }: Ground): Offer[] {
  const name = node as ast.TypeName & { name: string };
  const { library } = setting;
  const isAlone = node.$container?.$type === 'Type';
  const holds = isAlone && node.$container?.$container?.$type === 'Property';
  const offers: Offer[] = [...namedMeasures.keys(), ...library.measures.keys()].map((label) => ({
    label,
    kind: 25,
    rank: 1,
  }));
  if (isAlone) {
    for (const label of ['Flag', 'Text', 'Date']) offers.push({ label, kind: 25, rank: 2 });
    for (const label of trial.draft.axisNames(trial.mount))
      offers.push({ label, kind: 13, rank: 3, subject: { is: 'axis', name: label } });
  }
  if (holds)
    for (const label of library.components.keys())
      offers.push({ label, kind: 7, rank: 2, subject: { is: 'component', name: label } });
  name.name = '';
  trial.settle();
  return offers.filter(({ label }) => {
    if (library.components.has(label)) return !holdsRound(label, node, library);
    name.name = label;
    return trial.fits();
  });
}

/** A component cannot hold itself, through others neither. */
function holdsRound(component: string, at: AstNode, library: Ground['setting']['library']): boolean {
  let owner: string | null = null;
  for (let step: AstNode | undefined = at; step; step = step.$container) {
    if (step.$type === 'Component') owner = (step as ast.Component).name;
    if (step.$type === 'Extend') owner = (step as ast.Extend).target;
  }
  return owner === null || owner === 'any' || component === owner || library.held.way(component, owner) !== null;
}

/** Names that stand in a property of a node which takes nothing but them. */
export function namesIn({ node, property }: Found, trial: Trial, ground: Ground, builds: readonly string[]): Offer[] {
  const { setting, draft } = ground;
  const components = (): Offer[] =>
    [...setting.library.components.keys()].map((label) => ({
      label,
      kind: 7,
      rank: 1,
      subject: { is: 'component', name: label },
    }));
  const axes = (): Offer[] =>
    trial.draft
      .axisNames(trial.mount)
      .map((label) => ({ label, kind: 13, rank: 1, subject: { is: 'axis', name: label } }));
  const parts = (component: string): Offer[] =>
    setting.parts
      .names(component)
      .map((name) => ({ label: written(name), kind: 7, rank: 1, detail: component, subject: { is: 'part', name } }));
  switch (`${node.$type}.${property}`) {
    case 'Part.kind':
      return fittingPart(node as ast.Part, components(), trial);
    case 'Part.base': {
      const { kind, name } = node as ast.Part;
      return parts(kind).filter(
        ({ subject }) => subject?.name !== name && !startsFrom(subject?.name ?? '', name, setting.parts),
      );
    }
    case 'Extend.target':
      return [...components(), { label: 'any', kind: 14, rank: 2 }];
    case 'Type.axes': {
      const known = new Set((node as ast.Type).axes);
      return axes()
        .filter(({ label }) => !known.has(label))
        .filter(({ label }) => tried(node, property, label, trial));
    }
    case 'Axis.twin':
      return draft
        .axisNames(trial.mount)
        .filter((name) => name !== (node as ast.Axis).name)
        .map((label) => ({ label, kind: 13, rank: 1, subject: { is: 'axis', name: label } }));
    case 'Rule.severity':
      return ['error', 'warning', 'advice'].map((label) => ({ label, kind: 20, rank: 1 }));
    case 'Property.features':
      return (isFlag(node as ast.Property) ? ['ticked', 'set'] : ['grows', 'falls', 'bought', 'set'])
        .filter((label) => !(node as ast.Property).features.includes(label))
        .map((label) => ({ label, kind: 14, rank: 1 }));
    case 'Derive.features':
      return (node as ast.Derive).features.includes('bought') ? [] : [{ label: 'bought', kind: 14, rank: 1 }];
    case 'Variant.base':
      return builds
        .filter((name) => name !== (node as ast.Variant).name)
        .map((name) => ({ label: written(name), kind: 7, rank: 1 }));
    case 'Note.instrument':
      return parts(instrumentComponent);
    case 'PathStep.name':
      return figuresFor(node as ast.PathStep, trial);
    default:
      return [];
  }
}

function fittingPart(node: ast.Part, offers: readonly Offer[], trial: Trial): Offer[] {
  const isBare = (node.body?.members.length ?? 0) === 0;
  return offers.filter(({ label }) => isBare || trial.withKind(label));
}

function startsFrom(from: string, name: string, parts: Ground['setting']['parts']): boolean {
  const seen = new Set<string>();
  for (
    let at = parts.find(from);
    at && !seen.has(at.item.name);
    at = at.item.base ? parts.find(at.item.base) : undefined
  ) {
    if (at.item.name === name) return true;
    seen.add(at.item.name);
  }
  return false;
}

function tried(node: AstNode, property: string, word: string, trial: Trial): boolean {
  const list = (node as unknown as Record<string, string[]>)[property]!;
  const at = list.findIndex((one) => one === PROBE);
  list[at] = word;
  const fit = trial.fits();
  list[at] = PROBE;
  return fit;
}

/** Paths to figures where only those may stand: `adjust`, `changed-by`. */
function figuresFor(step: ast.PathStep, trial: Trial): Offer[] {
  const path = step.$container as ast.Path;
  const at = path.steps.indexOf(step);
  let within: number | null = null;
  for (const { name } of path.steps.slice(0, at)) {
    const found: ReturnType<Trial['draft']['inside']> =
      within === null ? trial.draft.lookUp(name, trial.mount) : trial.draft.inside(within, name);
    if (found?.is !== 'mount') return [];
    within = found.mount;
  }
  const { draft } = trial;
  const names = within === null ? draft.namesSeen(trial.mount) : draft.namesInside(within);
  return names.flatMap((name): Offer[] => {
    const found = within === null ? draft.lookUp(name, trial.mount) : draft.inside(within, name);
    return found?.is === 'slot' && draft.slots[found.slot]!.sort === 'property'
      ? [{ label: name, kind: 10, rank: 1, subject: { is: 'slot', name: draft.slots[found.slot]!.path } }]
      : [];
  });
}

/** `on`, `with`, `by`, `at`, `because`: those that the figure or the block does not have yet. */
export function notesAt({ node }: Found, trial: Trial, { setting }: Ground, text: string): Offer[] {
  const holder = node.$container as ast.Given | ast.Measured | ast.Machining;
  const others = holder.notes.filter((note) => note !== node && note.date !== PROBE_DATE);
  if (others.length < holder.notes.length - 1) {
    // a figure that ends in a number: it may still want its unit
    holder.notes = others;
    if (!trial.fits()) return [];
  }
  const instruments = setting.parts.names(instrumentComponent).map(written);
  const date = newestDate(text) ?? '2026-01-01';
  const offers: Offer[] = [];
  const add = (label: string, snippet: string, isThere: (note: ast.Note) => boolean): void => {
    if (!others.some(isThere)) offers.push({ label, kind: 14, rank: 2, snippet });
  };
  add('on', `on \${1:${date}}`, (note) => note.date !== undefined);
  if (instruments.length > 0) add('with', `with ${oneOf(1, instruments)}`, (note) => note.instrument !== undefined);
  add('by', 'by "${1:name}"', (note) => note.hand !== undefined);
  add('at', 'at ${1:20 degC}', (note) => note.word === 'at');
  add('because', 'because "${1:why}"', (note) => note.reason !== undefined);
  return offers;
}

/** Checks of the build, those that object first. */
export function checksAt({ node, form }: Found, outcome: Outcome | undefined, start: number): Offer[] {
  if (
    node.$container?.$container?.$type !== 'Accept' ||
    (node.$container as ast.Path).steps.indexOf(node as ast.PathStep) > 0
  )
    return [];
  const checks = (outcome?.checks ?? []).filter(({ kind }) => kind !== 'expect');
  return checks.flatMap((check): Offer[] => {
    const offer: Offer = {
      label: check.id,
      kind: 23,
      rank: ranks[check.state] ?? 3,
      detail: check.because ?? '',
      subject: { is: 'rule', name: check.id },
      from: start,
    };
    if (form !== 'accept') return [offer];
    const written = acceptable(outcome!, check);
    return written === null ? [] : [{ ...offer, snippet: written }];
  });
}

/** A deviation from what objects first; null where nothing does. */
export function deviation(outcome: Outcome | undefined): string | null {
  const checks = (outcome?.checks ?? []).filter(({ kind, state }) => kind !== 'expect' && state in objecting);
  checks.sort((a, b) => objecting[a.state]! - objecting[b.state]!);
  return checks.map((check) => acceptable(outcome!, check)).find((text) => text !== null) ?? null;
}

/** The worst cell with limits that just hold its figure; of what holds, its own limits. Null where it has no figure. */
function acceptable(outcome: Outcome, check: CheckOutcome): string | null {
  const bad = worstOf(check.cells.filter(({ state }) => state === check.state && state in ranks));
  const cell = bad ?? check.cells.find(({ value }) => value !== null);
  const within = cell ? limitsToAccept(outcome, check, cell) : null;
  if (!cell || within === null) return null;
  return `${bad ? checkAt(check, cell) : check.id} within \${1:${escaped(within)}} because "\${2:why}"`;
}

const objecting: Partial<Record<CheckOutcome['state'], number>> = { 'out-of-limits': 0, 'at-risk': 1 };
const ranks: typeof objecting = { ...objecting, accepted: 2 };

function isFlag({ type }: ast.Property): boolean {
  return type?.of?.$type === 'TypeName' && type.of.name === 'Flag';
}
