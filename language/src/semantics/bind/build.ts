/** One build or variant: everything it gives, bound to its schema. */
import type * as ast from '../../grammar/generated/ast.ts';
import { docOf } from '../../grammar/file.ts';
import type { Declared } from '../names/library.ts';
import { envOf, type Setting } from '../schema/build.ts';
import { Draft } from '../schema/draft.ts';
import { readPending } from '../schema/formulas.ts';
import { declareMembers, type Pending } from '../schema/members.ts';
import type { Schema } from '../schema/schema.ts';
import type { Assignment, BuildBinding, PartFitted } from './binding.ts';
import { bindBody } from './body.ts';
import { Collected, noNotes, type FigureRead, type Place } from './collect.ts';
import { inOrder } from './history.ts';
import { instrumentsSeen } from './instruments.ts';

/** A build with the draft it was read in: a variant carries on from it. */
export interface Bound {
  readonly binding: BuildBinding;
  readonly draft: Draft;
  readonly partCount: number;
  readonly fitted: readonly PartFitted[];
  readonly figuresRead: ReadonlyMap<ast.Given, FigureRead>;
}

export interface Ground {
  readonly draft: Draft;
  readonly schema: Schema;
  readonly shared: Collected;
  readonly setting: Setting;
  readonly edition: number;
}

export function bindBuild(item: ast.Build | ast.Variant, uri: string, ground: Ground, base: Bound | null): Bound {
  const { setting } = ground;
  const from = base ? { draft: base.draft, schema: base.binding.schema } : ground;
  const { draft, schema } = withOwn(item, uri, from, setting);
  const into = new Collected(base?.partCount ?? ground.shared.partCount);
  const layer = item.$type === 'Variant' ? 'variant' : 'build';
  const place: Place = {
    setting,
    draft,
    into,
    uri,
    mount: 0,
    selector: [],
    layer,
    order: null,
    part: null,
    block: null,
    notes: noNotes,
    given: new Map(),
    whose: item.name ?? layer,
    partsRound: [],
  };
  bindBody(item.body, place);
  const { history, placeOf } = inOrder(into);
  const own = into.assignments.map((one) =>
    one.block === null ? one : { ...one, block: placeOf.get(one.block) ?? one.block },
  );
  const shared = base ? [] : ground.shared.assignments;
  const binding: BuildBinding = {
    name: item.name ?? '',
    schema,
    base: base?.binding ?? null,
    assignments: [...shared, ...own] as Assignment[],
    parts: base ? into.parts : [...ground.shared.parts, ...into.parts],
    history,
    expects: into.expects,
    accepts: into.accepts,
    fitted: into.fitted,
    removed: into.removed,
    drops: { slots: base ? into.setSlots : new Set(), mounts: base ? into.setMounts : new Set() },
    instruments: instrumentsSeen(envOf(draft, 0, uri, setting)),
    edition: ground.edition,
    origin: { uri, at: item },
    doc: docOf(item),
    nameAt: item,
  };
  const { partCount, parts: fitted, figuresRead } = into;
  return { binding, draft, partCount, fitted, figuresRead };
}

/** A build's own computed figures and rules stand beside those of its scope. */
function withOwn(
  item: ast.Build | ast.Variant,
  uri: string,
  from: { draft: Draft; schema: Schema },
  setting: Setting,
): { draft: Draft; schema: Schema } {
  const members = item.body?.members ?? [];
  const declarations = members
    .filter((member): member is ast.Derive | ast.Rule => member.$type === 'Derive' || member.$type === 'Rule')
    .map((declaration): Declared<ast.Declaration> => ({ item: declaration, uri, distance: 0 }));
  if (declarations.length === 0) return from;
  const draft = new Draft(setting.library.rootName, from.draft);
  const pending: Pending[] = [];
  declareMembers(draft, 0, { item: declarations[0]!.item, uri, distance: 0, declarations }, setting, pending, []);
  readPending(draft, pending, setting);
  return { draft, schema: draft.finish(setting.library.rootName) };
}
