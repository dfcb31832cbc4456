// The sheet's sections in the order of the job: one for each part of the whole, and one for what each chapter works out.
// Chapters and their order are data of the trade library.
import type { SheetSection } from '@thou/shared/result/sheet';
import type { SlotId } from '../semantics/ir.ts';
import type { CheckOutcome, Outcome, SlotOutcome } from '../semantics/plan/outcome.ts';
import type { Mount, Origin, Schema } from '../semantics/schema/schema.ts';
import type { LibraryText } from '../semantics/project.ts';
import type { Assignment, BuildBinding, PartFitted } from '../semantics/bind/binding.ts';
import { fittedParts, isChosen, sheetOfPart } from './parts.ts';
import { slotsIn } from '../semantics/reads.ts';
import { capitalised, docText, words } from './place.ts';
import type { Files } from './place.ts';
import { fitsOnSheet, rowsOf } from './rows.ts';

export interface Chapter {
  readonly uri: string;
  readonly title: string;
}

/** A chapter says its title in its first line, `// Chapter 3, lengths and masses: …`; else its file's name is it. */
export function chaptersOf(files: LibraryText['files']): Chapter[] {
  return files.map(({ uri, text }) => {
    const said = /^\/\/ (?:Chapters? [\d ,and-]+, )?([^:\n]{3,60}):/.exec(text)?.[1];
    const name = decodeURIComponent(uri.slice(uri.lastIndexOf('/') + 1)).replace(/\.thou$/, '');
    return { uri, title: capitalised(said ?? words(name)) };
  });
}

export interface SectionOptions {
  readonly files: Files;
  /** In the order of the job. */
  readonly chapters: readonly Chapter[];
}

interface Draft {
  readonly id: string;
  readonly title: string;
  readonly doc: string;
  readonly mount: Mount | null;
  readonly chapter: number;
  readonly line: number;
  readonly slots: SlotOutcome[];
}

/** What a section will hold, before its figures are written out. */
export interface SectionPlan {
  readonly title: string;
  /** The same for the same section, whatever it holds. */
  readonly id: string;
  readonly slots: readonly SlotOutcome[];
  written(): SheetSection;
}

export function sectionsOf(outcome: Outcome, options: SectionOptions): SheetSection[] {
  return sectionPlans(outcome, options).map((plan) => plan.written());
}

/** In the order of the job; what nobody looks at is not written out. */
export function sectionPlans(outcome: Outcome, options: SectionOptions): SectionPlan[] {
  const checks = checksBySlot(outcome);
  const parts = fittedParts(outcome);
  const { schema } = outcome.binding;
  return drafts(outcome, options).flatMap(({ id, title, doc, mount, slots }): SectionPlan[] => {
    const laidOut = slots.filter(({ axes }) => fitsOnSheet(axes));
    const shown = new Set(laidOut.map(({ slot }) => slot.mount));
    const told = parts.filter((fitted) => isChosen(fitted) || shown.has(fitted.mount.parent ?? 0));
    const named = mount ? partNames(told, mount, schema) : [];
    if (laidOut.length + named.length === 0) return [];
    const written = (): SheetSection => {
      const lines = laidOut.flatMap((one) =>
        rowsOf(one, {
          outcome,
          checks: checks.get(one.slot.id) ?? [],
          name: nameWithin(one, mount),
          files: options.files,
        }),
      );
      return {
        title,
        doc,
        parts: named,
        singles: lines.filter((line) => line.kind === 'single'),
        rows: lines.filter((line) => line.kind === 'row'),
      };
    };
    return [{ id, title, slots: laidOut, written }];
  });
}

function checksBySlot(outcome: Outcome): Map<number, CheckOutcome[]> {
  const bySlot = new Map<number, CheckOutcome[]>();
  for (const check of outcome.checks) {
    if (!check.slot || check.state === 'not-applicable') continue;
    bySlot.set(check.slot.id, [...(bySlot.get(check.slot.id) ?? []), check]);
  }
  return bySlot;
}

function drafts(outcome: Outcome, { chapters, files }: SectionOptions): Draft[] {
  const { schema } = outcome.binding;
  const made = new Map<string, Draft>();
  const own = figuresOfJob(outcome, chapters);
  for (const one of outcome.slots) {
    if (!belongsOnSheet(outcome, one, own)) continue;
    const top = topMount(schema, one.slot.mount);
    const key = top ? top.path : one.slot.origin.uri;
    const draft = made.get(key) ?? draftOf(top, one.slot.origin, chapters, files);
    made.set(key, draft);
    draft.slots.push(one);
  }
  for (const { mount } of fittedParts(outcome)) {
    const top = topMount(schema, mount.id);
    const key = top && top.path;
    if (key && !made.has(key)) made.set(key, draftOf(top, top.origin, chapters, files));
  }
  const ordered = [...made.values()].sort((a, b) => a.chapter - b.chapter || a.line - b.line);
  const ofMounts = new Set(ordered.filter(({ mount }) => mount).map(({ title }) => title));
  const whole = capitalised(words(schema.rootName));
  return ordered.map((draft) =>
    draft.mount || !ofMounts.has(draft.title) ? draft : { ...draft, title: `${whole}: ${draft.title.toLowerCase()}` },
  );
}

function draftOf(top: Mount | null, origin: Origin, chapters: readonly Chapter[], files: Files): Draft {
  const from = top?.origin ?? origin;
  const at = chapters.findIndex(({ uri }) => uri === from.uri);
  const chapter = at < 0 ? chapters.length : at;
  if (top) {
    const line = files.placeOf(from)?.line ?? 0;
    return {
      title: capitalised(words(top.name)),
      doc: docText(top.doc),
      mount: top,
      chapter,
      line,
      slots: [],
      id: top.path,
    };
  }
  const title = chapters[at]?.title ?? `From ${files.nameOf(from.uri)}`;
  return {
    id: files.nameOf(from.uri).replace(/.*[/ ]/, ''),
    title,
    doc: '',
    mount: null,
    chapter,
    line: Number.MAX_SAFE_INTEGER,
    slots: [],
  };
}

/** The mount right below the root that a mount hangs on; null for the root itself. */
function topMount(schema: Schema, id: number): Mount | null {
  let mount = schema.mounts[id];
  while (mount && mount.parent !== null && schema.mounts[mount.parent]?.parent !== null)
    mount = schema.mounts[mount.parent];
  return mount && mount.parent !== null ? mount : null;
}

function nameWithin({ slot }: SlotOutcome, mount: Mount | null): string {
  const path = mount && slot.path.startsWith(`${mount.path}.`) ? slot.path.slice(mount.path.length + 1) : slot.path;
  return capitalised(path.split('.').map(words).join(' '));
}

/**
 * What somebody gave, or what follows from that; not the library's own data, and no limits: they stand beside what they limit.
 * A figure is only worked out when the rest holds.
 */
function belongsOnSheet(outcome: Outcome, one: SlotOutcome, own: ReadonlySet<SlotId>): boolean {
  const { slot } = one;
  if (slot.type.is === 'limits' || !own.has(slot.id)) return false;
  if (!fitsOnSheet(slot.axes.flatMap((id) => outcome.axes.get(id) ?? []))) return false;
  return one.states.some((state) => state !== 'missing' && state !== 'not-applicable');
}

/** Figures of this job: given outside the library, or worked out from such figures. */
export function figuresOfJob(outcome: Outcome, chapters: readonly Chapter[]): ReadonlySet<SlotId> {
  const known = ofJob.get(outcome);
  if (known?.chapters === chapters) return known.slots;
  const slots = lookedUpOfJob(outcome.binding, chapters);
  ofJob.set(outcome, { chapters, slots });
  return slots;
}

const ofJob = new WeakMap<Outcome, { readonly chapters: readonly Chapter[]; readonly slots: ReadonlySet<SlotId> }>();

function lookedUpOfJob(binding: BuildBinding, chapters: readonly Chapter[]): ReadonlySet<SlotId> {
  const library = new Set(chapters.map(({ uri }) => uri));
  const { schema } = binding;
  const own = new Set<SlotId>();
  const left = assignmentsOf(binding)
    .filter(({ origin }) => !library.has(origin.uri))
    .map(({ slot }) => slot)
    .concat(schema.slots.filter(({ origin }) => !library.has(origin.uri)).map(({ id }) => id));
  const readers = readersIn(schema);
  for (let next = left.pop(); next !== undefined; next = left.pop()) {
    if (own.has(next)) continue;
    own.add(next);
    left.push(...(readers.get(next) ?? []));
  }
  return own;
}

/** Of a variant and, where it does not drop them, of its base. */
function assignmentsOf(binding: BuildBinding): Assignment[] {
  const { base, drops, schema } = binding;
  if (!base) return [...binding.assignments];
  const isDropped = (slot: SlotId): boolean => {
    if (drops.slots.has(slot)) return true;
    for (let mount = schema.mounts[schema.slots[slot]!.mount]; mount; mount = schema.mounts[mount.parent ?? -1])
      if (drops.mounts.has(mount.id)) return true;
    return false;
  };
  return [...assignmentsOf(base).filter(({ slot }) => !isDropped(slot)), ...binding.assignments];
}

const readersBySchema = new WeakMap<Schema, ReadonlyMap<SlotId, readonly SlotId[]>>();

/** Which figures read a figure, in their formulas or in how they are measured. */
function readersIn(schema: Schema): ReadonlyMap<SlotId, readonly SlotId[]> {
  const known = readersBySchema.get(schema);
  if (known) return known;
  const readers = new Map<SlotId, SlotId[]>();
  for (const { id, formula, measuredBy } of schema.slots)
    for (const read of [formula, measuredBy].flatMap((expr) => (expr ? slotsIn(expr) : [])))
      readers.set(read, [...(readers.get(read) ?? []), id]);
  readersBySchema.set(schema, readers);
  return readers;
}

function partNames(parts: ReturnType<typeof fittedParts>, top: Mount, schema: Schema): string[] {
  return parts
    .filter(({ mount }) => topMount(schema, mount.id) === top)
    .map(({ mount, parts: fitted }) => {
      const names = [...new Set(fitted.map((part) => (part ? nameWithSheet(part) : 'none named')))].join(', ');
      const within = mount === top ? 'part' : mount.path.slice(top.path.length + 1).replaceAll('.', ' ');
      return `${capitalised(words(within))}: ${names}`;
    });
}

/** `HF-6 (data sheet 12 of 2026-01-15)`, as the part says above itself. */
function nameWithSheet({ part, declared }: PartFitted): string {
  const sheet = sheetOfPart(declared);
  return sheet === '' ? part : `${part} (${sheet})`;
}
