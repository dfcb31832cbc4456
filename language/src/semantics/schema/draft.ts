/**
 * A schema while it is being written: mounts, slots and axes by name, and the look-ups that expressions need.
 * A draft can be carried on from another, so that a build's own figures cost only themselves.
 */
import type { Property, Type } from '../../grammar/generated/ast.ts';
import type { SlotId } from '../ir.ts';
import type { Declared } from '../names/library.ts';
import type { AxisId, ValueType } from '../types/type.ts';
import type { Feature, Mount, MountId, Origin, Schema, SchemaAxis, SchemaRule, Shown, Slot } from './schema.ts';

export type Found = { readonly is: 'slot'; readonly slot: SlotId } | { readonly is: 'mount'; readonly mount: MountId };

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
/** Formulas are read after all names are there. */
export type SlotDraft = Mutable<Slot>;

export interface MountDraft extends Omit<Mutable<Mount>, 'children' | 'slots'> {
  readonly children: MountId[];
  readonly slots: SlotId[];
  readonly names: Map<string, Found>;
  readonly axisNames: Map<string, AxisId>;
}

export interface MountDefault {
  readonly mount: MountId;
  readonly parent: MountId;
  readonly declared: Declared<Property>;
}

export interface NewSlot {
  readonly name: string;
  readonly sort: Slot['sort'];
  readonly type: ValueType;
  readonly axes: readonly AxisId[];
  readonly shown: readonly Shown[];
  readonly features: readonly Feature[];
  readonly onDemand: boolean;
  readonly measurable: boolean;
  readonly doc: string | undefined;
  readonly origin: Origin;
}

export class Draft {
  readonly mounts: MountDraft[];
  readonly slots: SlotDraft[];
  readonly axes: SchemaAxis[];
  readonly rules: SchemaRule[];
  /** The root component's name as a value name. */
  readonly rootAlias: string;
  /** No further part fits: told once. */
  isFull = false;
  /** What mounts start with: bound with every build. */
  readonly mountDefaults: MountDefault[];
  /** Where each list of choices stands. */
  readonly choiceTypes: WeakMap<readonly string[], { readonly type: Type; readonly uri: string }>;
  private readonly texts: Map<string, number>;
  private readonly openAxes: Map<string, AxisId>;

  constructor(rootComponent: string, from: Draft | null = null) {
    this.rootAlias = rootComponent.replace(/(?<=[a-z0-9])(?=[A-Z])/g, '-').toLowerCase();
    this.mounts = (from?.mounts ?? []).map(copied);
    this.slots = [...(from?.slots ?? [])];
    this.axes = [...(from?.axes ?? [])];
    this.rules = [...(from?.rules ?? [])];
    this.mountDefaults = [...(from?.mountDefaults ?? [])];
    this.texts = from?.texts ?? new Map();
    this.choiceTypes = from?.choiceTypes ?? new WeakMap();
    this.openAxes = new Map(from?.openAxes ?? []);
  }

  /** Texts are kept once, by number, for all builds of the scope. */
  textNumber(text: string): number {
    const known = this.texts.get(text);
    if (known !== undefined) return known;
    this.texts.set(text, this.texts.size);
    return this.texts.size - 1;
  }

  allTexts(): readonly string[] {
    return [...this.texts.keys()];
  }

  addMount(
    name: string,
    parent: MountId | null,
    component: string,
    axes: readonly AxisId[],
    optional: boolean,
    doc: string | undefined,
    origin: Origin,
  ): MountId {
    const id = this.mounts.length;
    const above = parent === null ? null : this.mounts[parent]!;
    const path = above && above.path !== '' ? `${above.path}.${name}` : parent === null ? '' : name;
    const allAxes = [...(above?.axes ?? []), ...axes];
    this.mounts.push({
      id,
      path,
      name,
      parent,
      component,
      axes: allAxes,
      optional,
      children: [],
      slots: [],
      doc,
      origin,
      names: new Map(),
      axisNames: new Map(),
    });
    above?.children.push(id);
    above?.names.set(name, { is: 'mount', mount: id });
    return id;
  }

  addSlot(mount: MountId, slot: NewSlot): SlotDraft {
    const id = this.slots.length;
    const owner = this.mounts[mount]!;
    const path = owner.path === '' ? slot.name : `${owner.path}.${slot.name}`;
    const made: SlotDraft = {
      ...slot,
      id,
      path,
      mount,
      axes: [...owner.axes, ...slot.axes.filter((axis) => !owner.axes.includes(axis))],
      formula: null,
      exactDefault: false,
      measuredBy: null,
      changedBy: [],
    };
    this.slots.push(made);
    owner.slots.push(id);
    owner.names.set(slot.name, { is: 'slot', slot: id });
    return made;
  }

  /** A slot of a carried-on draft is shared until it is changed. */
  change(slot: SlotId): SlotDraft {
    const copy = { ...this.slots[slot]! };
    this.slots[slot] = copy;
    return copy;
  }

  addAxis(axis: Omit<SchemaAxis, 'id'>): AxisId {
    const id = this.axes.length;
    this.axes.push({ ...axis, id });
    this.mounts[axis.mount]?.axisNames.set(axis.name, id);
    return id;
  }

  setRange(axis: AxisId, range: SchemaAxis['range'], measure: SchemaAxis['measure']): void {
    this.axes[axis] = { ...this.axes[axis]!, range, measure };
  }

  setTwin(axis: AxisId, twinOf: AxisId | null): void {
    this.axes[axis] = { ...this.axes[axis]!, twinOf };
  }

  /** An axis whose length comes with its figures. */
  openAxis(name: string, origin: Origin): AxisId {
    const known = this.openAxes.get(name);
    if (known !== undefined) return known;
    const axis = this.axes.length;
    this.axes.push({
      id: axis,
      name,
      mount: 0,
      labels: null,
      range: null,
      listed: null,
      twinOf: null,
      open: true,
      measure: null,
      doc: undefined,
      origin,
    });
    this.openAxes.set(name, axis);
    return axis;
  }

  /** Own component first, then those round it, up to the root. */
  lookUp(name: string, mount: MountId): Found | null {
    for (let at: MountId | null = mount; at !== null; at = this.mounts[at]?.parent ?? null) {
      const found = this.mounts[at]?.names.get(name);
      if (found) return found;
    }
    return (mount === 0 ? null : this.mounts[0]?.names.get(name)) ?? null;
  }

  inside(mount: MountId, name: string): Found | null {
    return this.mounts[mount]?.names.get(name) ?? null;
  }

  namesInside(mount: MountId): string[] {
    return [...(this.mounts[mount]?.names.keys() ?? [])];
  }

  /** Ways from here to figures of this name further in that can be given, the shortest first. */
  waysDown(name: string, from: MountId): string[] {
    const above = this.mounts[from]!.path;
    const start = above === '' ? '' : `${above}.`;
    const ways = this.slots.flatMap((slot) =>
      slot.sort === 'property' && slot.name === name && slot.path.startsWith(start)
        ? [slot.path.slice(start.length)]
        : [],
    );
    const steps = (way: string): number => way.split('.').length;
    return ways.sort((a, b) => steps(a) - steps(b));
  }

  namesSeen(mount: MountId): string[] {
    const names = new Set<string>(this.namesInside(0));
    for (let at: MountId | null = mount; at !== null; at = this.mounts[at]?.parent ?? null)
      for (const name of this.namesInside(at)) names.add(name);
    return [...names];
  }

  axisNamed(name: string, mount: MountId): AxisId | null {
    for (let at: MountId | null = mount; at !== null; at = this.mounts[at]?.parent ?? null) {
      const found = this.mounts[at]?.axisNames.get(name);
      if (found !== undefined) return found;
    }
    return this.mounts[0]?.axisNames.get(name) ?? this.openAxes.get(name) ?? null;
  }

  axisNames(mount: MountId): string[] {
    const names = new Set<string>(this.mounts[0]?.axisNames.keys() ?? []);
    for (let at: MountId | null = mount; at !== null; at = this.mounts[at]?.parent ?? null)
      for (const name of this.mounts[at]?.axisNames.keys() ?? []) names.add(name);
    return [...names];
  }

  /** `left.row`: told apart from the axis of the same name elsewhere. */
  axisPath(axis: AxisId): string {
    const { mount, name } = this.axes[axis]!;
    const path = this.mounts[mount]?.path ?? '';
    return path === '' ? name : `${path}.${name}`;
  }

  /** The axes that a mount adds to those of what it is mounted in. */
  ownAxes(mount: MountId): readonly AxisId[] {
    const { axes, parent } = this.mounts[mount]!;
    return parent === null ? axes : axes.slice(this.mounts[parent]!.axes.length);
  }

  anySlotIn(mount: MountId): SlotId | null {
    const { slots, children } = this.mounts[mount]!;
    if (slots[0] !== undefined) return slots[0];
    for (const child of children) {
      const slot = this.anySlotIn(child);
      if (slot !== null) return slot;
    }
    return null;
  }

  mountWords(mount: MountId): string {
    const { path, component } = this.mounts[mount]!;
    return path === '' ? `The ${component}` : `"${path}"`;
  }

  isBelow(mount: MountId, above: MountId): boolean {
    for (let at: MountId | null = mount; at !== null; at = this.mounts[at]!.parent) if (at === above) return true;
    return false;
  }

  finish(rootName: string): Schema {
    const slotAt = new Map(
      this.slots.filter((slot) => this.isBelow(slot.mount, 0)).map((slot) => [slot.path, slot.id]),
    );
    const mountAt = new Map(
      this.mounts.filter((mount) => this.isBelow(mount.id, 0)).map((mount) => [mount.path, mount.id]),
    );
    return { rootName, mounts: this.mounts, slots: this.slots, axes: this.axes, rules: this.rules, slotAt, mountAt };
  }
}

function copied(mount: MountDraft): MountDraft {
  return {
    ...mount,
    children: [...mount.children],
    slots: [...mount.slots],
    names: new Map(mount.names),
    axisNames: new Map(mount.axisNames),
  };
}
