/** From the declarations of a scope to its schema: mounts laid out first, then every formula read in its place. */
import type * as ast from '../../grammar/generated/ast.ts';
import { docOf } from '../../grammar/file.ts';
import { caps } from '@thou/shared/limits';
import { dimension } from '@thou/shared/dimension/dimension';
import type { ClashAt, Declared, Library } from '../names/library.ts';
import type { Report, Target } from '../problems/report.ts';
import { due as dueOf, type Env, type PartsSeen, type TextFiles } from '../types/env.ts';
import { readExpression } from '../types/expression.ts';
import { checkFunction } from '../types/functions.ts';
import { measureOf } from '../types/make.ts';
import { readMeasure } from '../types/named.ts';
import { declareAxes, readRanges } from './axes.ts';
import { reportCycles } from './cycles.ts';
import { Draft } from './draft.ts';
import { declareMembers, isTooLarge, type Pending } from './members.ts';
import { readPending } from './formulas.ts';

export interface Setting {
  readonly library: Library;
  readonly parts: PartsSeen;
  readonly files: TextFiles;
  readonly report: Report;
  /** The parts that another file sees: a part keeps its meaning from its own file. */
  partsOf(uri: string): PartsSeen;
  /** Where the file that is being checked first reaches another, for clashes between used files. */
  useOf(uri: string): Target | null;
  readonly clashAt: ClashAt;
}

/** Where expressions of a mount are read. */
export function envOf(draft: Draft, mount: number, uri: string, setting: Setting): Env {
  const { library, parts, files, report } = setting;
  return {
    library,
    parts,
    files,
    report,
    draft,
    mount,
    uri,
    locals: null,
    unit: null,
    was: null,
    isInFunction: false,
    written: { calls: 0 },
  };
}

export function buildDraft(setting: Setting): Draft {
  const { library, report } = setting;
  const draft = new Draft(library.rootName);
  const root = library.components.get(library.rootName);
  declareWords(draft, setting);
  if (!root) return draft;
  const origin = { uri: root.uri, at: root.item };
  draft.addMount('', null, library.rootName, [], false, docOf(root.item), origin);
  declareAxes(draft, 0, library.axes, setting);
  const pending: Pending[] = [];
  declareMembers(draft, 0, root, setting, pending, [library.rootName]);
  for (const derive of library.derives) declareOne(draft, derive, setting, pending);
  for (const rule of library.rules) pending.push({ is: 'rule', mount: 0, declared: rule });
  readRanges(draft, setting);
  for (const declared of library.functions.values()) checkFunction(declared, envOf(draft, 0, declared.uri, setting));
  readPending(draft, pending, setting);
  checkLoose(draft, setting);
  reportCycles(draft, report);
  return draft;
}

function declareOne(draft: Draft, derive: Declared<ast.Derive>, setting: Setting, pending: Pending[]): void {
  declareMembers(draft, 0, { ...derive, declarations: [derive] }, setting, pending, []);
}

/** Units and dimensions of the files: they are needed before anything is read. */
function declareWords(draft: Draft, setting: Setting): void {
  const { library, report } = setting;
  for (const { item, uri } of library.dimensionDeclarations) {
    const measure = item.type?.of ? readMeasure(item.type.of, envOf(draft, 0, uri, setting)) : null;
    if (measure && item.name) library.measures.set(item.name, { dimension: measure.dimension, kind: measure.kind });
  }
  for (const { item, uri } of library.unitDeclarations) {
    if (!item.name) continue;
    const at = { uri, at: item, property: 'name' };
    if (library.units.get(item.name)) report.add('unit.taken', at, { name: item.name });
    else declareUnit(draft, item, uri, setting);
  }
}

function declareUnit(draft: Draft, item: ast.UnitDeclaration, uri: string, setting: Setting): void {
  const { library, report } = setting;
  const env = envOf(draft, 0, uri, setting);
  const type = item.type?.of ? readMeasure(item.type.of, env) : null;
  if (!type) return;
  if (!item.value) {
    if (type.dimension === dimension({ money: 1 })) library.units.currency(item.name);
    else
      report.add(
        'unit.malformed',
        { uri, at: item, property: 'name' },
        { name: item.name, why: 'only a currency needs no size; write what one is, as in "= 25.4 mm"' },
      );
    return;
  }
  const size = readExpression(item.value, env, dueOf(measureOf(type), [], `the unit ${item.name}`));
  if (size.op === 'constant' && size.value > 0 && Number.isFinite(size.value))
    library.units.define(item.name, size.value, type);
  else if (size.type.value.is !== 'unsettled')
    report.add(
      'unit.malformed',
      { uri, at: item, property: 'value' },
      { name: item.name, why: 'its size must be one written figure above nothing' },
    );
}

/** Components that nothing mounts are read once on their own, for their own slips. */
function checkLoose(draft: Draft, setting: Setting): void {
  const mounted = new Set(draft.mounts.map((mount) => mount.component));
  const loose = new Draft(setting.library.rootName, draft);
  loose.isFull = true;
  const pending: Pending[] = [];
  for (const [name, component] of setting.library.components) {
    if (mounted.has(name) || isTooLarge(name, setting) || loose.mounts.length >= caps.mounts) continue;
    const mount = loose.addMount(name, null, name, [], false, docOf(component.item), {
      uri: component.uri,
      at: component.item,
    });
    declareMembers(loose, mount, component, setting, pending, [name]);
  }
  readRanges(loose, setting, draft.axes.length);
  readPending(loose, pending, setting);
}
