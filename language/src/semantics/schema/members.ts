/** Lays out one component at one mount: its axes, slots and the mounts inside it. Formulas wait until all names are there. */
import type * as ast from '../../grammar/generated/ast.ts';
import { docOf } from '../../grammar/file.ts';
import { caps } from '@thou/shared/limits';
import { isNone } from '@thou/shared/dimension/dimension';
import { canCompare } from '@thou/shared/dimension/types';
import { declarationsOf, fileName, libraryDistance, type ComponentDeclared, type Declared } from '../names/library.ts';
import { builtins, builtinValues } from '../types/builtins.ts';
import { target, type Env } from '../types/env.ts';
import { readUnit } from '../types/literals.ts';
import { componentOf, readType } from '../types/named.ts';
import type { ValueType } from '../types/type.ts';
import { typeWords } from '../types/words.ts';
import { declareAxes } from './axes.ts';
import { envOf, type Setting } from './build.ts';
import type { Draft } from './draft.ts';
import type { Feature, MountId, Shown } from './schema.ts';

export type Pending =
  | {
      readonly is: 'property';
      readonly mount: MountId;
      readonly slot: number;
      readonly declared: Declared<ast.Property>;
    }
  | { readonly is: 'derive'; readonly mount: MountId; readonly slot: number; readonly declared: Declared<ast.Derive> }
  | { readonly is: 'rule'; readonly mount: MountId; readonly declared: Declared<ast.Rule> }
  /** Figures in the braces or behind `=` of a mount: defaults of that mount. */
  | {
      readonly is: 'mount';
      readonly mount: MountId;
      readonly parent: MountId;
      readonly declared: Declared<ast.Property>;
    };

type Owner =
  ComponentDeclared | (Declared<ast.Declaration> & { readonly declarations: readonly Declared<ast.Declaration>[] });

const features: ReadonlySet<string> = new Set(['grows', 'falls', 'bought', 'set']);
/** A flag is not cut either, but it may be a task: to be done until it is ticked. */
const featuresOfFlag: ReadonlySet<string> = new Set(['set', 'ticked']);
/** What is worked out is not cut, but it may be the size of something to be bought. */
const featuresOfDerive: ReadonlySet<string> = new Set(['bought']);

/** `within` names the components round this one: none may hold itself. */
export function declareMembers(
  draft: Draft,
  mount: MountId,
  owner: Owner,
  setting: Setting,
  pending: Pending[],
  within: readonly string[],
): void {
  const declarations = 'declarations' in owner ? owner.declarations : declarationsOf(owner, setting.library);
  const axes = declarations.filter((declared): declared is Declared<ast.Axis> => declared.item.$type === 'Axis');
  declareAxes(draft, mount, axes, setting);
  const seen = new Map<string, Declared<ast.Declaration>>();
  for (const declared of declarations) {
    const { item, uri } = declared;
    if (item.$type === 'Axis' || !item.name) continue;
    if (isKept(item)) {
      setting.report.add('name.reserved', { uri, at: item, property: 'name' }, { name: item.name });
      continue;
    }
    const key = `${item.$type === 'Rule' ? 'rule' : 'value'} ${item.name}`;
    const first = seen.get(key) ?? (draft.inside(mount, item.name) && item.$type !== 'Rule' ? declared : undefined);
    if (first) {
      const related =
        first === declared
          ? []
          : [{ target: { uri: first.uri, at: first.item, property: 'name' }, words: 'first here' }];
      const at = { uri, at: item, property: 'name' };
      const use = first === declared ? null : setting.clashAt(uri, first.uri);
      if (use)
        setting.report.add(
          'use.name-clash',
          use,
          { name: item.name, first: fileName(first.uri), second: fileName(uri) },
          { related: [...related, { target: at, words: 'and here' }] },
        );
      else setting.report.add('declare.twice', at, { name: item.name }, { related });
      continue;
    }
    seen.set(key, declared);
    declareMember(draft, mount, declared, setting, pending, within);
  }
}

/** Words that always mean the same; a curve is called by its name, so that it cannot bear a function's either. */
function isKept(item: Exclude<ast.Declaration, ast.Axis>): boolean {
  if (item.$type === 'Rule') return false;
  return builtinValues.has(item.name) || (builtins.has(item.name) && item.type.against.length > 0);
}

function declareMember(
  draft: Draft,
  mount: MountId,
  declared: Declared<ast.Declaration>,
  setting: Setting,
  pending: Pending[],
  within: readonly string[],
): void {
  const { item, uri } = declared;
  const env = envOf(draft, mount, uri, setting);
  if (item.$type === 'Rule') pending.push({ is: 'rule', mount, declared: { ...declared, item } });
  else if (item.$type === 'Derive') {
    const slot = declareSlot(draft, mount, declared.distance === libraryDistance, item, item.features, env);
    pending.push({ is: 'derive', mount, slot, declared: { ...declared, item } });
  } else if (item.$type === 'Property') {
    const component = item.type ? componentOf(item.type, env) : null;
    if (component) declareMount(draft, mount, component, { ...declared, item }, setting, pending, within);
    else
      pending.push({
        is: 'property',
        mount,
        slot: declareSlot(draft, mount, declared.distance === libraryDistance, item, item.features, env),
        declared: { ...declared, item },
      });
  }
}

/** Told once, at the component; it is left out wherever it is held. */
export function isTooLarge(name: string, { library, report }: Setting): boolean {
  const { size, depth } = library.held.unfoldedOf(name);
  if (size <= caps.mounts && depth <= caps.nesting) return false;
  const { item, uri } = library.components.get(name)!;
  report.add(
    'declare.too-many',
    { uri, at: item, property: 'name' },
    { component: name, most: depth > caps.nesting ? `${caps.nesting} inside each other` : `${caps.mounts} in all` },
  );
  return true;
}

function declareMount(
  draft: Draft,
  parent: MountId,
  component: string,
  declared: Declared<ast.Property>,
  setting: Setting,
  pending: Pending[],
  within: readonly string[],
): void {
  const { item, uri } = declared;
  const owner = within[within.length - 1] ?? '';
  const { held } = setting.library;
  const circle = held.isCircular(component) && held.isCircular(owner) ? held.way(component, owner) : null;
  if (circle) {
    const through = circle.slice(1);
    setting.report.add(
      'declare.holds-itself',
      { uri, at: item, property: 'type' },
      { component, through: through.length > 0 ? `, through ${through.join(', ')}` : '' },
    );
    return;
  }
  if (isTooLarge(component, setting)) return;
  if (draft.mounts.length + held.unfoldedOf(component).size > caps.mounts) {
    if (!draft.isFull)
      setting.report.add(
        'declare.too-many',
        { uri, at: item, property: 'name' },
        { component: owner, most: `${caps.mounts} in all` },
      );
    draft.isFull = true;
    return;
  }
  const { axes } = readType(item.type, envOf(draft, parent, uri, setting));
  const own = axes.filter((axis) => !draft.mounts[parent]!.axes.includes(axis));
  const mount = draft.addMount(item.name, parent, component, own, item.type.optional, docOf(item), { uri, at: item });
  declareMembers(draft, mount, setting.library.components.get(component)!, setting, pending, [...within, component]);
  if (item.value || item.body) pending.push({ is: 'mount', mount, parent, declared });
}

function declareSlot(
  draft: Draft,
  mount: MountId,
  onDemand: boolean,
  item: ast.Property | ast.Derive,
  words: readonly string[],
  env: Env,
): number {
  const type = readType(item.type, env);
  const slot = draft.addSlot(mount, {
    name: item.name,
    sort: item.$type === 'Derive' ? 'derive' : 'property',
    type: type.value,
    axes: type.axes,
    shown: item.type ? shownAs(item.type, type.value, env) : [],
    features: featuresOf(item, words, type.value, env),
    onDemand,
    measurable: isMeasurable(type.value, mount) && !words.includes('set'),
    doc: docOf(item),
    origin: { uri: env.uri, at: item },
  });
  return slot.id;
}

/** A figure with a unit, on a part: what a gauge can settle. Limits, settings of the whole and what is `set` are chosen, not read. */
function isMeasurable(type: ValueType, mount: MountId): boolean {
  return mount !== 0 && type.is === 'measure' && !isNone(type.measure.dimension);
}

function featuresOf(item: ast.Property | ast.Derive, words: readonly string[], type: ValueType, env: Env): Feature[] {
  const known = item.$type === 'Derive' ? featuresOfDerive : type.is === 'flag' ? featuresOfFlag : features;
  words.forEach((name, i) => {
    if (!known.has(name)) env.report.add('declare.feature', target(env, item, 'features', i), { name });
  });
  return words.filter((name): name is Feature => known.has(name));
}

function shownAs(type: ast.Type, value: ValueType, env: Env): Shown[] {
  const shown: Shown[] = [];
  for (const one of type.shown) {
    const decimals = one.digits.includes('.') ? one.digits.length - one.digits.indexOf('.') - 1 : 0;
    const unit = one.unit ? readUnit(one.unit, one, 'unit', env) : null;
    const measure =
      value.is === 'measure' || value.is === 'limits' ? value.measure : value.is === 'curve' ? value.result : null;
    if (unit && measure && !canCompare(unit.measure, measure)) {
      env.report.add('dimension.due', target(env, one), {
        what: 'what it is shown as',
        due: typeWords(value, env),
        value: unit.symbol,
        type: typeWords({ is: 'measure', measure: unit.measure }, env),
      });
    } else shown.push({ decimals, unit });
  }
  return shown;
}
