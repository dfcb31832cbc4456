/**
 * All figures that count in one build, slot by slot, lowest first: its base's and its own. Knows who may speak where
 * (layer, order, fitted part, variant); computes no figure.
 */
import type { Assignment, BuildBinding, HistoryBlock, Instrument, Layer, PartFitted } from '../bind/binding.ts';
import type { SlotId } from '../ir.ts';
import type { MountId, Schema } from '../schema/schema.ts';
import type { Exchanged } from './exchanged.ts';

/** One assignment in the build that is being planned. `depth` counts variants: 0 is the build that all is based on. */
export interface Figure {
  readonly source: Assignment;
  readonly depth: number;
  /** Place in the history of base and variant together. */
  readonly block: number | null;
  readonly part: Fitted | null;
}

/** A part put on a mount; `depth` as above. */
export interface Fitted extends PartFitted {
  readonly depth: number;
}

export interface Block extends HistoryBlock {
  readonly depth: number;
}

const ranks: Readonly<Record<Layer, number>> = {
  default: 0,
  'mount-default': 1,
  practice: 2,
  part: 3,
  build: 4,
  variant: 5,
  machining: 6,
  measured: 7,
};

function isHistory(figure: Figure): boolean {
  return figure.block !== null;
}

const none: readonly Figure[] = [];

/** What a build gives, with its bases below it. */
export class Given {
  readonly blocks: readonly Block[];
  readonly parts: readonly Fitted[];
  readonly absent: ReadonlySet<MountId>;
  readonly depth: number;
  /** A variant sees those of its base as well. */
  readonly instruments: ReadonlyMap<string, Instrument>;
  private readonly bySlot = new Map<
    SlotId,
    { readonly specified: readonly Figure[]; readonly history: readonly Figure[] }
  >();
  private readonly dropped: readonly { readonly depth: number; readonly mounts: ReadonlySet<MountId> }[];
  private readonly fitted: ReadonlySet<MountId>;
  private readonly removed: ReadonlySet<MountId>;
  private machinedOrRead: readonly SlotId[] | null = null;

  constructor(binding: BuildBinding) {
    const chain = chainOf(binding);
    this.depth = chain.length - 1;
    this.instruments = new Map(chain.flatMap((link) => [...link.instruments]));
    this.blocks = chain.flatMap((link, depth) => link.history.map((block) => ({ ...block, depth })));
    const parts = chain.map((link, depth) => new Map(link.parts.map((part) => [part.id, { ...part, depth }])));
    this.parts = parts.flatMap((own) => [...own.values()]).sort(byFitting);
    this.dropped = chain.map((link, depth) => ({ depth, mounts: link.drops.mounts }));
    [this.fitted, this.removed] = fittedIn(chain);
    this.absent = absentMounts(binding.schema, this.fitted, this.removed);
    this.collect(chain, parts);
  }

  /** The same with other figures in the place of some; the figures of all others are the same objects. */
  with(figures: Exchanged): Given {
    const anew = (one: Figure): Figure => {
      const source = figures.get(one.source);
      return source ? { ...one, source } : one;
    };
    const bySlot = new Map(this.bySlot);
    for (const { slot } of figures.keys()) {
      const { specified, history } = this.bySlot.get(slot)!;
      bySlot.set(slot, { specified: specified.map(anew), history: history.map(anew) });
    }
    return Object.assign(Object.create(Given.prototype) as Given, this, { bySlot });
  }

  /** Those of which anything was given, in no order. */
  slots(): Iterable<SlotId> {
    return this.bySlot.keys();
  }

  /** Of a slot, up to its variants: lowest first. */
  specified(slot: SlotId): readonly Figure[] {
    return this.bySlot.get(slot)?.specified ?? none;
  }

  /** Of a slot, machining and readings in the order in which they came. */
  history(slot: SlotId): readonly Figure[] {
    return this.bySlot.get(slot)?.history ?? none;
  }

  /** Those that were machined or read, in the order of the schema; the same after other figures took the place of some. */
  get slotsWithHistory(): readonly SlotId[] {
    this.machinedOrRead ??= [...this.bySlot]
      .flatMap(([slot, { history }]) => (history.length > 0 ? [slot] : []))
      .sort((a, b) => a - b);
    return this.machinedOrRead;
  }

  /** Parts on this mount that a variant put there, dropping what its base had at and below it, for a figure of `depth`. */
  replacements(mount: MountId, depth: number): readonly Fitted[] {
    const later = this.dropped.filter((drop) => drop.depth > depth && drop.mounts.has(mount));
    return this.parts.filter((part) => part.mount === mount && later.some((drop) => drop.depth === part.depth));
  }

  /** True where a variant drops the mount without putting a part there. */
  dropsWhole(mount: MountId, depth: number): boolean {
    return this.dropped.some(
      (drop) =>
        drop.depth > depth &&
        drop.mounts.has(mount) &&
        !this.parts.some((part) => part.mount === mount && part.depth === drop.depth),
    );
  }

  private collect(chain: readonly BuildBinding[], parts: readonly ReadonlyMap<number, Fitted>[]): void {
    const bySlot = new Map<SlotId, Figure[]>();
    let firstBlock = 0;
    chain.forEach((link, depth) => {
      for (const source of link.assignments) {
        const block = source.block === null ? null : source.block + firstBlock;
        const part = source.part === null ? null : (parts[depth]!.get(source.part) ?? null);
        const figures = bySlot.get(source.slot) ?? [];
        figures.push({ source, depth, block, part });
        bySlot.set(source.slot, figures);
      }
      firstBlock += link.history.length;
    });
    for (const [slot, figures] of bySlot)
      this.bySlot.set(slot, {
        specified: figures.filter((figure) => !isHistory(figure)).sort(bySpeaking),
        history: figures.filter(isHistory).sort(byBlock),
      });
  }
}

/** From the build that all is based on to the variant itself. */
export function chainOf(binding: BuildBinding): readonly BuildBinding[] {
  return binding.base === null ? [binding] : [...chainOf(binding.base), binding];
}

function bySpeaking(a: Figure, b: Figure): number {
  const layer = ranks[a.source.layer] - ranks[b.source.layer];
  return layer || a.depth - b.depth || a.source.order - b.source.order;
}

function byBlock(a: Figure, b: Figure): number {
  return a.block! - b.block! || a.source.order - b.source.order;
}

function byFitting(a: Fitted, b: Fitted): number {
  return ranks[a.layer] - ranks[b.layer] || a.depth - b.depth || a.order - b.order;
}

function fittedIn(chain: readonly BuildBinding[]): [ReadonlySet<MountId>, ReadonlySet<MountId>] {
  const fitted = new Set<MountId>();
  const removed = new Set<MountId>();
  for (const link of chain) {
    for (const mount of link.fitted) {
      fitted.add(mount);
      removed.delete(mount);
    }
    for (const mount of link.removed) {
      removed.add(mount);
      fitted.delete(mount);
    }
  }
  return [fitted, removed];
}

function absentMounts(
  schema: Schema,
  fitted: ReadonlySet<MountId>,
  removed: ReadonlySet<MountId>,
): ReadonlySet<MountId> {
  const absent = new Set<MountId>();
  const isAbsent = (id: MountId): boolean => {
    const mount = schema.mounts[id]!;
    if (removed.has(id) || (mount.optional && !fitted.has(id))) return true;
    return mount.parent !== null && isAbsent(mount.parent);
  };
  for (const { id } of schema.mounts) if (isAbsent(id)) absent.add(id);
  return absent;
}
