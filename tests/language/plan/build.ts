/** Schemas and bindings written by hand, for tests of the plan without any text. Slots, axes and mounts are named, as in a file. */
import { plainNumber } from '@thou/shared/dimension/types';
import type {
  AcceptGiven,
  Assignment,
  BuildBinding,
  ExpectGiven,
  HistoryBlock,
  Instrument,
  Layer,
  PartFitted,
  Selector,
} from '../../../language/src/semantics/bind/binding.ts';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import type { Value } from '../../../language/src/semantics/evaluate/value.ts';
import type { Expr, View } from '../../../language/src/semantics/ir.ts';
import { planBuild } from '../../../language/src/semantics/plan/run.ts';
import type { Plan } from '../../../language/src/semantics/plan/run.ts';
import type {
  Comparison,
  Mount,
  Origin,
  Schema,
  SchemaAxis,
  SchemaRule,
  Slot,
} from '../../../language/src/semantics/schema/schema.ts';
import type { ValueType } from '../../../language/src/semantics/types/type.ts';
import { slot as slotExpr } from '../evaluate/build.ts';

/** Stands for a place in a file; only its identity counts. */
function place(name: string): Origin {
  return { uri: `memory:/${name}`, at: { $type: name } as Origin['at'] };
}
const measure: ValueType = { is: 'measure', measure: plainNumber };
export const limitsType: ValueType = { is: 'limits', measure: plainNumber };

interface SlotOptions {
  readonly axes?: readonly string[];
  readonly formula?: Expr;
  readonly exact?: boolean;
  readonly measuredBy?: Expr;
  readonly changedBy?: readonly string[];
  readonly measurable?: boolean;
  readonly type?: ValueType;
}

export class World {
  readonly mounts: Mount[] = [];
  readonly slots: Slot[] = [];
  readonly axes: SchemaAxis[] = [];
  readonly rules: SchemaRule[] = [];
  private made: Schema | null = null;

  constructor() {
    this.mount('');
  }

  axis(name: string, places: number | readonly string[]): this {
    const labels = typeof places === 'number' ? null : places;
    const listed = typeof places === 'number' ? Array.from({ length: places }, (_, at) => at + 1) : null;
    return this.anyAxis(name, { labels, listed });
  }

  anyAxis(name: string, more: Partial<SchemaAxis>): this {
    const origin = place(`axis ${name}`);
    const id = this.axes.length;
    this.axes.push({
      id,
      name,
      mount: 0,
      labels: null,
      range: null,
      listed: null,
      twinOf: null,
      open: false,
      measure: null,
      doc: undefined,
      origin,
      ...more,
    });
    return this;
  }

  mount(path: string, more: { readonly axes?: readonly string[]; readonly optional?: boolean } = {}): this {
    const id = this.mounts.length;
    const above = path.includes('.') ? path.slice(0, path.lastIndexOf('.')) : '';
    const parent = path === '' ? null : this.mountId(above);
    this.mounts.push({
      id,
      path,
      name: path.slice(path.lastIndexOf('.') + 1),
      parent,
      component: path === '' ? 'Engine' : 'Part',
      axes: [
        ...(parent === null ? [] : this.mounts[parent]!.axes),
        ...(more.axes ?? []).map((name) => this.axisId(name)),
      ],
      optional: more.optional ?? false,
      children: [],
      slots: [],
      doc: undefined,
      origin: place(`mount ${path}`),
    });
    return this;
  }

  property(path: string, more: SlotOptions = {}): this {
    return this.slot(path, 'property', more);
  }
  derive(path: string, formula: Expr, more: SlotOptions = {}): this {
    return this.slot(path, 'derive', { ...more, formula, measurable: false });
  }

  private slot(path: string, sort: Slot['sort'], more: SlotOptions): this {
    const above = path.includes('.') ? path.slice(0, path.lastIndexOf('.')) : '';
    const mount = this.mountId(above);
    this.slots.push({
      id: this.slots.length,
      path,
      name: path.slice(path.lastIndexOf('.') + 1),
      mount,
      sort,
      type: more.type ?? measure,
      axes: [...this.mounts[mount]!.axes, ...(more.axes ?? []).map((name) => this.axisId(name))],
      formula: more.formula ?? null,
      exactDefault: more.exact ?? false,
      measuredBy: more.measuredBy ?? null,
      shown: [],
      features: [],
      onDemand: false,
      changedBy: (more.changedBy ?? []).map((name) => this.id(name)),
      measurable: more.measurable ?? (more.type === undefined || more.type.is === 'measure'),
      doc: undefined,
      origin: place(`slot ${path}`),
    });
    return this;
  }

  rule(
    id: string,
    comparisons: readonly Partial<Comparison>[],
    more: Partial<SchemaRule> & { readonly flag?: Expr } = {},
  ): this {
    this.rules.push({
      id,
      name: id,
      mount: 0,
      severity: more.severity ?? 'warning',
      when: more.when ?? null,
      demand: { comparisons: comparisons.map(comparison), flag: more.flag ?? null, at: place(id).at },
      because: more.because ?? 'it wears',
      adjust: [],
      doc: undefined,
      origin: place(`rule ${id}`),
    });
    return this;
  }

  id(path: string): number {
    const found = this.slots.findIndex((slot) => slot.path === path);
    if (found < 0) throw new Error(`no slot ${path}`);
    return found;
  }
  axisId(name: string): number {
    return this.axes.findIndex((axis) => axis.name === name);
  }
  mountId(path: string): number {
    return this.mounts.findIndex((mount) => mount.path === path);
  }
  /** Reads a slot. */
  read(path: string): Expr {
    return slotExpr(this.id(path), this.slots[this.id(path)]!.type);
  }
  in(view: View | 'computed', path: string): Expr {
    return { op: 'view', view, of: this.read(path), type: { value: measure, axes: [] }, at: null };
  }
  was(path: string): Expr {
    return { op: 'was', slot: this.id(path), type: { value: measure, axes: [] }, at: null };
  }

  get schema(): Schema {
    this.made ??= {
      rootName: 'engine',
      mounts: this.mounts,
      slots: this.slots,
      axes: this.axes,
      rules: this.rules,
      slotAt: new Map(this.slots.map((slot) => [slot.path, slot.id])),
      mountAt: new Map(this.mounts.map((mount) => [mount.path, mount.id])),
    };
    return this.made;
  }

  build(): Build {
    return new Build(this);
  }
}

function comparison(more: Partial<Comparison>): Comparison {
  const value = more.value!;
  let at = value;
  while (at.op === 'gather') at = at.of;
  return {
    value,
    low: null,
    high: null,
    limits: null,
    lowOpen: false,
    highOpen: false,
    slot: at.op === 'slot' ? at.slot : null,
    at: place('comparison').at,
    ...more,
  };
}

type Keys = Readonly<Record<string, string | number>>;

/** A build being written: its figures, blocks, parts, expects. */
export class Build {
  readonly world: World;
  private readonly assignments: Assignment[] = [];
  private readonly parts: PartFitted[] = [];
  private readonly blocks: HistoryBlock[] = [];
  private readonly expects: ExpectGiven[] = [];
  private readonly accepts: AcceptGiven[] = [];
  private readonly fitted = new Set<number>();
  private readonly removed = new Set<number>();
  private readonly dropsMounts = new Set<number>();
  private base: BuildBinding | null = null;
  private readonly instruments = new Map<string, Instrument>();

  constructor(world: World) {
    this.world = world;
  }

  of(base: Build): this {
    this.base = base.binding();
    return this;
  }

  give(
    path: string,
    value: Expr,
    more: { readonly layer?: Layer; readonly at?: Keys; readonly part?: number; readonly whose?: string } = {},
  ): this {
    const layer = more.layer ?? (this.base === null ? 'build' : 'variant');
    return this.assign(path, value, layer, null, more);
  }
  instrument(name: string, more: Partial<Instrument>): this {
    const nothing = {
      resolution: null,
      uncertainty: null,
      measure: null,
      calibrated: null,
      expires: null,
      expansion: null,
      soak: null,
    };
    this.instruments.set(name, { name, calibration: name, origin: place(name), ...nothing, ...more });
    return this;
  }
  cut(): this {
    return this.block('machining');
  }
  measured(instrument: string | null = null): this {
    return this.block('measured', instrument);
  }
  /** Inside the last block. */
  set(path: string, value: Expr, at: Keys = {}): this {
    const block = this.blocks.length - 1;
    return this.assign(path, value, this.blocks[block]!.kind, block, { at });
  }
  private block(kind: HistoryBlock['kind'], instrument: string | null = null): this {
    this.blocks.push({ kind, label: kind, date: null, hand: null, instrument, origin: place(kind) });
    return this;
  }
  part(mount: string, at: Keys = {}, layer: Layer = 'build'): number {
    const id = this.parts.length;
    this.parts.push({
      id,
      mount: this.world.mountId(mount),
      selector: this.selector(at),
      part: `part ${id}`,
      declared: place(`part ${id}`).at,
      layer,
      order: id,
      origin: place(`part ${id}`),
    });
    return id;
  }
  fit(mount: string): this {
    this.fitted.add(this.world.mountId(mount));
    return this;
  }
  takeOff(mount: string): this {
    this.removed.add(this.world.mountId(mount));
    return this;
  }
  dropBelow(mount: string): this {
    this.dropsMounts.add(this.world.mountId(mount));
    return this;
  }
  expect(text: string, comparisons: readonly Partial<Comparison>[], flag: Expr | null = null): this {
    const origin = place(text);
    this.expects.push({
      demand: { comparisons: comparisons.map(comparison), flag, at: origin.at },
      because: null,
      text,
      origin,
      inherited: false,
    });
    return this;
  }
  accept(rule: string, within: Expr, keys: readonly (string | number)[] = []): this {
    const selector = keys.map((key) => ({
      key: { label: typeof key === 'string' ? key : null, number: typeof key === 'number' ? key : null, at: null },
      axisName: null,
    }));
    this.accepts.push({ rule, selector, within, because: 'the maker allows it', origin: place(`accept ${rule}`) });
    return this;
  }

  private assign(
    path: string,
    value: Expr,
    layer: Layer,
    block: number | null,
    more: { readonly at?: Keys; readonly part?: number; readonly whose?: string },
  ): this {
    const order = this.assignments.length;
    this.assignments.push({
      slot: this.world.id(path),
      selector: this.selector(more.at ?? {}),
      value,
      layer,
      order,
      part: more.part ?? null,
      block,
      date: null,
      hand: null,
      instrument: null,
      temperature: null,
      reason: null,
      whose: more.whose ?? layer,
      origin: place(`${layer} ${path} ${order}`),
      signature: JSON.stringify(value),
    });
    return this;
  }

  private selector(at: Keys): Selector {
    return Object.entries(at).map(([name, key]) => ({
      axis: this.world.axisId(name),
      key: { label: typeof key === 'string' ? key : null, number: typeof key === 'number' ? key : null, at: null },
    }));
  }

  binding(): BuildBinding {
    return {
      name: 'test',
      schema: this.world.schema,
      base: this.base,
      assignments: this.assignments,
      parts: this.parts,
      history: this.blocks,
      expects: this.expects,
      accepts: this.accepts,
      fitted: this.fitted,
      removed: this.removed,
      drops: {
        slots: new Set(this.base === null ? [] : this.assignments.map((one) => one.slot)),
        mounts: this.dropsMounts,
      },
      instruments: this.instruments,
      edition: 1,
      origin: place('build'),
      doc: undefined,
      nameAt: place('name').at,
    };
  }

  plan(previous?: Plan): Plan {
    return planBuild(this.binding(), previous);
  }
}

const marks = ['exact', 'measured', 'carried-over', 'ordered', 'specified', 'missing', 'absent'];

/** Cells of a slot in a view: figures, `_` missing, `x` absent. */
export function cells(plan: Plan, path: string, view: View = 'measured'): readonly (number | '_' | 'x')[] {
  const value = valueOf(plan, path, view);
  if (value.is !== 'numbers') throw new Error(`${path} has no figures`);
  const { data, mark } = value.tensor;
  return Array.from(data, (figure, cell) =>
    mark?.[cell] === Mark.missing ? '_' : mark?.[cell] === Mark.absent ? 'x' : figure,
  );
}

export function marksIn(plan: Plan, path: string, view: View = 'measured'): readonly string[] {
  const value = valueOf(plan, path, view);
  if (value.is !== 'numbers') throw new Error(`${path} has no figures`);
  return Array.from(value.tensor.data, (_, cell) => marks[value.tensor.mark?.[cell] ?? 0]!);
}

export function valueOf(plan: Plan, path: string, view: View): Value {
  const slot = plan.schema.slots.findIndex((one) => one.path === path);
  return plan.outcome().slots[slot]!.views[view];
}

/** The four views of one cell. */
export function views(plan: Plan, path: string, cell = 0): Readonly<Record<View, number | '_' | 'x'>> {
  const at = (view: View) => cells(plan, path, view)[cell]!;
  return { specified: at('specified'), ordered: at('ordered'), before: at('before'), measured: at('measured') };
}
