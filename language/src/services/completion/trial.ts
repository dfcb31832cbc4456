/**
 * Whether something fits a place: it is put into the tree and the statement is read as the language reads it, with a report of its own.
 * What is offered is so as sound as the checks are. The tree belongs to the trial and is changed.
 */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { SourceFile } from '../../grammar/file.ts';
import { bindBody } from '../../semantics/bind/body.ts';
import type { Ground } from '../../semantics/bind/build.ts';
import { Collected, noNotes } from '../../semantics/bind/collect.ts';
import type { Layer } from '../../semantics/bind/binding.ts';
import { checkParts } from '../../semantics/bind/loose-parts.ts';
import { resolveFigure } from '../../semantics/names/paths.ts';
import { messages } from '../../semantics/problems/messages.ts';
import { Report, Silence, type Finding } from '../../semantics/problems/report.ts';
import { envOf, type Setting } from '../../semantics/schema/build.ts';
import { Draft } from '../../semantics/schema/draft.ts';
import { covered, readPending } from '../../semantics/schema/formulas.ts';
import { declareMembers, type Pending } from '../../semantics/schema/members.ts';
import { readRule } from '../../semantics/schema/rules.ts';
import { due, type Env } from '../../semantics/types/env.ts';
import { readExpression, readFormula } from '../../semantics/types/expression.ts';
import { checkFunction } from '../../semantics/types/functions.ts';
import { componentOf, readType } from '../../semantics/types/named.ts';

/** What an unfinished statement is not yet: no reason to keep a name back. */
const unfinished: ReadonlySet<string> = new Set(['given.no-shape', 'declare.no-expect']);

export class Trial {
  readonly draft: Draft;
  /** The mount whose names the place sees. */
  readonly mount: number;
  /** Paths that the block round the place gives already, all their cells; from where the block begins. */
  readonly taken: ReadonlySet<string>;
  private readonly ground: Ground;
  private readonly uri: string;
  private readonly item: ast.Item;
  private readonly declaration: ast.Declaration | null;
  /** The word's own node and all that hold it: what is wrong there speaks against what is tried. */
  private readonly round = new Set<AstNode>();
  private before: ReadonlySet<string> = new Set();

  /** `bases`: what a variant stands on, for their own derived values. */
  constructor(ground: Ground, uri: string, item: ast.Item, at: AstNode, bases: readonly ast.Item[]) {
    this.ground = ground;
    this.uri = uri;
    this.item = item;
    for (let step: AstNode | undefined = at; step; step = step.$container) this.round.add(step);
    this.declaration = declarationRound(at);
    this.draft = this.draftFor(bases);
    this.mount = this.mountRound(at);
    this.taken = takenRound(at);
    prune(at);
  }

  /** Notes what is wrong elsewhere in the statement with the word left open, so that it is not held against anything. */
  settle(): void {
    this.before = new Set(
      this.findings()
        .filter(({ target }) => !this.round.has(target.at))
        .map(keyOf),
    );
  }

  fits(): boolean {
    return this.findings().every(
      (finding) =>
        messages[finding.code].severity !== 'error' || unfinished.has(finding.code) || this.before.has(keyOf(finding)),
    );
  }

  /** The whole part read as one of another component. */
  withKind(kind: string): boolean {
    if (this.item.$type !== 'Part') return true;
    const before = this.item.kind;
    this.item.kind = kind;
    const fit = this.fits();
    this.item.kind = before;
    return fit;
  }

  private findings(): readonly Finding[] {
    const report = new Report();
    this.read({ ...this.ground.setting, report });
    return report.findings;
  }

  private read(setting: Setting): void {
    const { item } = this;
    if (this.declaration) return readDeclaration(this.declaration, envOf(this.draft, this.mount, this.uri, setting));
    switch (item.$type) {
      case 'Build':
      case 'Variant':
        return this.bind(item.body, item.$type === 'Variant' ? 'variant' : 'build', 0, setting);
      case 'Practice':
        return this.bindPractice(item, setting);
      case 'Part': {
        const alone = {
          uri: this.uri,
          text: '',
          problems: [],
          blocks: [{ offset: 0, parsed: { text: '', item, problems: [] } }],
        };
        return checkParts(alone satisfies SourceFile, { ...this.ground, draft: this.draft, setting });
      }
      case 'FunctionDeclaration':
        return checkFunction({ item, uri: this.uri, distance: 0 }, envOf(this.draft, 0, this.uri, setting));
      case 'UnitDeclaration': {
        const env = envOf(this.draft, 0, this.uri, setting);
        readExpression(item.value, env, due(item.type ? readType(item.type, env).value : null));
        return;
      }
      default:
    }
  }

  private bind(body: ast.Body | undefined, layer: Layer, mount: number, setting: Setting): void {
    bindBody(body, {
      setting,
      draft: this.draft,
      into: new Collected(),
      uri: this.uri,
      mount,
      selector: [],
      layer,
      order: 0,
      part: null,
      block: null,
      notes: noNotes,
      given: new Map(),
      whose: '',
      partsRound: [],
    });
  }

  /** A path may begin at a component: it is then read at its first mount. */
  private bindPractice(item: ast.Practice, setting: Setting): void {
    const [member] = item.body?.members ?? [];
    const first = member?.$type === 'Given' ? member.path?.steps[0]?.name : undefined;
    const mount = this.draft.mounts.find(({ component }) => component === first);
    if (!mount || member?.$type !== 'Given' || !this.ground.setting.library.components.has(first ?? ''))
      return this.bind(item.body, 'practice', 0, setting);
    const path = { ...member.path, steps: member.path.steps.slice(1) };
    if (path.steps.length === 0) return;
    const inside = Object.assign(Object.create(member) as ast.Given, { path });
    this.bind({ ...item.body, members: [inside] }, 'practice', mount.id, setting);
  }

  /** A build's own derived values stand beside those of its scope; a component that nothing mounts gets a mount of its own. */
  private draftFor(bases: readonly ast.Item[]): Draft {
    const { draft, setting } = this.ground;
    const declarations = [...bases, this.item].flatMap((item) =>
      item.$type === 'Build' || item.$type === 'Variant'
        ? (item.body?.members ?? []).filter((member) => member.$type === 'Derive' || member.$type === 'Rule')
        : [],
    );
    const quiet: Setting = { ...setting, report: new Silence() };
    const pending: Pending[] = [];
    const own = new Draft(setting.library.rootName, draft);
    const declared = declarations.map((item) => ({ item, uri: this.uri, distance: 0 }));
    if (declared[0]) declareMembers(own, 0, { ...declared[0], declarations: declared }, quiet, pending, []);
    this.declareLoose(own, quiet, pending);
    readPending(own, pending, quiet);
    return own;
  }

  private declareLoose(draft: Draft, setting: Setting, pending: Pending[]): void {
    const name = componentNamed(this.item);
    const component = name === null ? undefined : setting.library.components.get(name);
    if (!name || !component || draft.mounts.some((mount) => mount.component === name)) return;
    const mount = draft.addMount(name, null, name, [], false, undefined, { uri: component.uri, at: component.item });
    declareMembers(draft, mount, component, setting, pending, [name]);
  }

  private mountRound(at: AstNode): number {
    const bodies: AstNode[] = [];
    for (let step = at.$container; step; step = step.$container)
      if (step.$type === 'Given' || step.$type === 'Property') bodies.unshift(step);
    const name = componentNamed(this.item);
    let mount = name === null ? 0 : (this.draft.mounts.find(({ component }) => component === name)?.id ?? 0);
    for (const node of bodies as (ast.Given | ast.Property)[]) {
      if (!node.body || !this.round.has(node.body)) continue;
      const steps = node.$type === 'Given' ? (node.path?.steps ?? []).map((step) => step.name) : [node.name];
      for (const step of steps) {
        const found = this.draft.inside(mount, step);
        if (found?.is === 'mount') mount = found.mount;
        else {
          const first =
            this.item.$type === 'Practice' ? this.draft.mounts.find(({ component }) => component === step) : undefined;
          if (first) mount = first.id;
        }
      }
    }
    return mount;
  }
}

function keyOf({ code, target, args }: Finding): string {
  return `${code} ${target.at.$cstNode?.offset ?? ''} ${Object.values(args).join(' ')}`;
}

function componentNamed(item: ast.Item): string | null {
  if (item.$type === 'Component') return item.name;
  if (item.$type === 'Extend') return item.target;
  return item.$type === 'Part' ? item.kind : null;
}

/** The derived value, rule or property whose text holds the place; none where a figure of a build does. */
function declarationRound(at: AstNode): ast.Declaration | null {
  for (let step: AstNode | undefined = at; step; step = step.$container) {
    if (step.$type === 'Given') return null;
    if (step.$type === 'Derive' || step.$type === 'Rule' || step.$type === 'Property') return step as ast.Declaration;
  }
  return null;
}

/** Where the second figure of a path would speak over the first: a build, a part, a block of readings. */
const begins: ReadonlySet<string> = new Set(['Build', 'Variant', 'Part', 'Practice', 'Machining', 'Measured']);

function takenRound(at: AstNode): Set<string> {
  const taken = new Set<string>();
  let owner: AstNode | undefined = at;
  while (owner && !begins.has(owner.$type)) owner = owner.$container;
  const gather = (body: ast.Body | undefined, before: readonly string[]): void => {
    for (const member of body?.members ?? []) {
      if (member.$type !== 'Given') continue;
      const steps = member.path?.steps ?? [];
      const path = [...before, ...steps.map(({ name }) => name)];
      if (member.value && steps.every(({ keys }) => keys.length === 0)) taken.add(path.join('.'));
      gather(member.body, path);
    }
  };
  gather((owner as { body?: ast.Body } | undefined)?.body, []);
  return taken;
}

/** Names from where the block begins down to a body. */
export function pathTo(body: AstNode): string[] {
  const path: string[] = [];
  for (let step: AstNode | undefined = body.$container; step && !begins.has(step.$type); step = step.$container)
    if (step.$type === 'Given') path.unshift(...((step as ast.Given).path?.steps ?? []).map(({ name }) => name));
  return path;
}

/** Of every body round the place only the member that leads to it stays: the others have been read. */
function prune(at: AstNode): void {
  for (let step: AstNode | undefined = at; step?.$container; step = step.$container) {
    const holder: AstNode = step.$container;
    if (holder.$type === 'Body') (holder as ast.Body).members = [step as ast.Member];
  }
}

function readDeclaration(item: ast.Declaration, env: Env): void {
  if (item.$type === 'Rule') {
    readRule(item, env.draft.mounts[env.mount]!, env);
    return;
  }
  if (item.$type === 'Axis' || !item.type || componentOf(item.type, env)) return;
  const { value, axes } = readType(item.type, env);
  const all = [...new Set([...(env.draft.mounts[env.mount]?.axes ?? []), ...axes])];
  const own = due(value, all, item.name);
  const read = (formula: ast.Expr | undefined, where?: ast.Where): void => {
    if (formula) covered(readFormula(formula, where, env, own), all, item.name, env);
  };
  read(item.value, item.$type === 'Derive' ? item.where : undefined);
  if (item.$type === 'Property') {
    read(item.measuredBy);
    for (const path of item.changedBy) resolveFigure(path, env);
  }
}
