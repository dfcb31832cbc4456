/**
 * The builds and variants of one file, bound and planned. A build is bound again only when its own text, its ground, its
 * base, its parts or a file it reads has changed; otherwise its outcome stands.
 */
import type * as ast from '../grammar/generated/ast.ts';
import { bindBuild, type Bound, type Ground } from './bind/build.ts';
import { withFigureAnew } from './bind/figure-anew.ts';
import { itemsOf, type Scope } from './names/scope.ts';
import { blockRootOf, type ParsedBlock, type SourceFile } from '../grammar/file.ts';
import { sameKey, type Asked, type Reading } from './grounds.ts';
import { PlannedLater } from './plan/later.ts';
import { planBuild } from './plan/run.ts';
import { didYouMean } from './problems/messages.ts';
import { insteadOf, Report, type Target } from './problems/report.ts';

type BuildItem = ast.Build | ast.Variant;

interface BoundOnce {
  readonly bound: Bound;
  /** What it was bound from. */
  readonly block: ParsedBlock;
  /** Slips of this build alone. */
  readonly report: Report;
  readonly key: readonly unknown[];
  readonly noted: readonly Asked[];
}

interface Planned {
  readonly bound: Bound;
  readonly outcome: PlannedLater;
}

export interface BuildsRead {
  /** Each is planned when somebody first looks into it. */
  readonly outcomes: readonly PlannedLater[];
  /** One a build, and one for names and bases. */
  readonly reports: readonly Report[];
}

/** Everything kept for one start file. */
export class Builds {
  private readonly reading: Reading;
  private bound = new Map<BuildItem, BoundOnce>();
  private planned = new Map<string, Planned>();

  constructor(reading: Reading) {
    this.reading = reading;
  }

  read(start: SourceFile, scope: Scope, ground: Ground): BuildsRead {
    const report = new Report();
    const round = new Round(start, scope, ground, this.reading, this.bound, report);
    const own = itemsOf(start).filter(isBuild);
    reportTwice(own, start.uri, report);
    const bound = own
      .map((item) => round.bind({ item, uri: start.uri }))
      .filter((one): one is BoundOnce => one !== null);
    this.bound = round.bound;
    const planned = new Map<string, Planned>();
    const outcomes = bound.map((one) => this.outcomeOf(one.bound, planned));
    this.planned = planned;
    return { outcomes, reports: [report, ...[...round.bound.values()].map((one) => one.report)] };
  }

  private outcomeOf(bound: Bound, planned: Map<string, Planned>): PlannedLater {
    const { name } = bound.binding;
    const before = this.planned.get(name);
    const outcome = before?.bound === bound ? before.outcome : laterThan(before?.outcome, bound);
    planned.set(name, { bound, outcome });
    return outcome;
  }
}

/** `before`: the same build before an edit, from which whatever stands is taken over. */
function laterThan(before: PlannedLater | undefined, { binding, draft }: Bound): PlannedLater {
  const texts = draft.allTexts();
  return new PlannedLater(binding, texts, before?.lastPlan, (previous) => planBuild(binding, previous, texts));
}

/** One look at a file: a variant may come before its base, and its base may stand in a file that this one uses. */
class Round {
  readonly bound = new Map<BuildItem, BoundOnce>();
  private readonly start: SourceFile;
  private readonly scope: Scope;
  private readonly ground: Ground;
  private readonly reading: Reading;
  private readonly before: ReadonlyMap<BuildItem, BoundOnce>;
  private readonly report: Report;
  private readonly known = new Map<string, Placed>();
  private readonly parts: readonly unknown[];

  constructor(
    start: SourceFile,
    scope: Scope,
    ground: Ground,
    reading: Reading,
    before: ReadonlyMap<BuildItem, BoundOnce>,
    report: Report,
  ) {
    this.start = start;
    this.scope = scope;
    this.ground = ground;
    this.reading = reading;
    this.before = before;
    this.report = report;
    for (const { uri, items } of scope.files)
      for (const item of items.filter(isBuild)) this.known.set(item.name, { item, uri });
    this.parts = scope.files.flatMap(({ uri, items }) => [
      uri,
      ...items.filter(({ $type }) => $type === 'Part' || $type === 'Use'),
    ]);
  }

  /** Bases first, however long the line of variants is. */
  bind(start: Placed): BoundOnce | null {
    let base: BoundOnce | null = null;
    for (const { item, uri } of lineOf(start, this.known, this.bound, this.report)) {
      const done: BoundOnce | undefined = this.bound.get(item);
      if (!done && item.$type === 'Variant' && !base) return null;
      base = done ?? this.boundOf(item, uri, base);
      this.bound.set(item, base);
    }
    return base;
  }

  /** Of its base a variant's own text needs to know only what is declared there and how many parts it has. */
  private boundOf(item: BuildItem, uri: string, base: BoundOnce | null): BoundOnce {
    const { draft, partCount } = base?.bound ?? { draft: null, partCount: 0 };
    const key = [this.ground.draft, this.ground.shared, draft, partCount, ...this.parts];
    const before = this.before.get(item);
    const stands = before !== undefined && sameKey(before.key, key) && this.reading.isUnchanged(before.noted);
    const now = stands ? asWritten(before, blockRootOf(item)) : null;
    if (now === null) return this.bindAnew(item, uri, base, key);
    return now.bound.binding.base === (base?.bound.binding ?? null) ? now : onOtherBase(now, base!.bound);
  }

  private bindAnew(item: BuildItem, uri: string, base: BoundOnce | null, key: readonly unknown[]): BoundOnce {
    const report = new Report();
    const noted: Asked[] = [];
    const { setting } = this.ground;
    const parts = uri === this.start.uri ? setting.parts : this.scope.partsOf(uri);
    const own: Ground = { ...this.ground, setting: { ...setting, parts, report, files: this.reading.files(noted) } };
    return { bound: bindBuild(item, uri, own, base?.bound ?? null), block: blockRootOf(item), report, key, noted };
  }
}

/** What was bound, with the figure that was written into its block since; null where the block has to be read as a whole. */
function asWritten(before: BoundOnce, block: ParsedBlock): BoundOnce | null {
  if (before.block === block) return before;
  if (block.before?.block.deref() !== before.block) return null;
  const bound = withFigureAnew(before.bound, block.before.figure, before.report);
  return bound && { ...before, bound, block };
}

function onOtherBase(before: BoundOnce, { binding: base }: Bound): BoundOnce {
  const { bound } = before;
  return { ...before, bound: { ...bound, binding: { ...bound.binding, base } } };
}

interface Placed {
  readonly item: BuildItem;
  readonly uri: string;
}

/** A build or variant with what it is a variant of, the first of them first; it begins with a variant where the line is broken. */
function lineOf(
  start: Placed,
  known: ReadonlyMap<string, Placed>,
  bound: ReadonlyMap<BuildItem, BoundOnce>,
  report: Report,
): Placed[] {
  const line: Placed[] = [];
  const passed = new Set<ast.Item>();
  for (let at: Placed | undefined = start; at && !passed.has(at.item);) {
    const { item, uri }: Placed = at;
    line.unshift(at);
    passed.add(item);
    if (item.$type === 'Build' || bound.has(item) || !item.base) return line;
    const base: Placed | undefined = known.get(item.base);
    const place: Target = { uri, at: item, property: 'base' };
    if (!base) {
      const near = report.nearest(item.base, known.keys());
      report.add(
        'name.no-such-base',
        place,
        { name: item.base, near: didYouMean(near) },
        { fixes: insteadOf(place, near) },
      );
    } else if (base.item === start.item)
      report.add('name.base-circle', { uri: start.uri, at: start.item, property: 'base' }, { name: start.item.name });
    at = base;
  }
  return line;
}

function isBuild(item: ast.Item): item is BuildItem {
  return item.$type === 'Build' || item.$type === 'Variant';
}

function reportTwice(own: readonly BuildItem[], uri: string, report: Report): void {
  const names = new Map<string, BuildItem>();
  for (const item of own) {
    const first = names.get(item.name);
    if (first) {
      const related = [{ target: { uri, at: first, property: 'name' }, words: 'first here' }];
      report.add('name.taken', { uri, at: item, property: 'name' }, { name: item.name, what: 'a build' }, { related });
    }
    names.set(item.name, item);
  }
}
