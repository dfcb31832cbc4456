// The reference manual as data: what each chapter declares, what it says of it, and what leads where. Knows no page and no build.

/** A piece of a formula; `to` is the entry that it names. */
export interface Piece {
  readonly text: string;
  readonly to: string | null;
}

/** A paragraph of a doc comment; `label` as it was written: `Source`, `Formula`, `Practice`. Blocks of code stand as they are. */
export interface Paragraph {
  readonly label: string | null;
  readonly text: string;
  readonly isCode: boolean;
}

export interface Formula {
  readonly label: string;
  readonly pieces: readonly Piece[];
}

export interface Table {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export interface ManualEntry {
  /** Stays the same as long as the thing keeps its name: others may link to it. */
  readonly id: string;
  readonly name: string;
  /** What sort of thing it is, in words. */
  readonly sort: string;
  /** The component that it belongs to; null where it stands alone. */
  readonly owner: string | null;
  /** What it takes: kind of quantity, axes, what it may be. */
  readonly takes: string;
  /** How its figures are shown: decimals and units. */
  readonly shown: string;
  readonly doc: readonly Paragraph[];
  readonly formulas: readonly Formula[];
  readonly facts: readonly string[];
  /** Figures that practice gives for it. */
  readonly given: readonly { readonly by: string; readonly value: string }[];
  readonly table: Table | null;
  /** Entries whose figures it is made of, entries that name it, and rules among them. */
  readonly uses: readonly string[];
  readonly usedBy: readonly string[];
  readonly checkedBy: readonly string[];
}

export interface ManualGroup {
  readonly title: string;
  readonly entries: readonly ManualEntry[];
}

export interface ManualChapter {
  /** Of its pages, without an ending. */
  readonly file: string;
  readonly title: string;
  readonly intro: readonly Paragraph[];
  readonly groups: readonly ManualGroup[];
}

export interface Manual {
  readonly edition: number | null;
  readonly chapters: readonly ManualChapter[];
  readonly cautions: readonly string[];
  readonly units: Table;
}

/** The entries of a manual by their ids, each with the chapter that it stands in. */
export class Entries {
  private readonly known: ReadonlyMap<string, { readonly entry: ManualEntry; readonly chapter: ManualChapter }>;

  constructor(manual: Manual) {
    this.known = new Map(
      manual.chapters.flatMap((chapter) => entriesOf(chapter).map((entry) => [entry.id, { entry, chapter }] as const)),
    );
  }

  get(id: string): { readonly entry: ManualEntry; readonly chapter: ManualChapter } | undefined {
    return this.known.get(id);
  }

  /** By name, as in a dictionary. */
  inOrder(): { readonly entry: ManualEntry; readonly chapter: ManualChapter }[] {
    return [...this.known.values()].sort(
      (a, b) => compared(a.entry.name, b.entry.name) || compared(a.entry.id, b.entry.id),
    );
  }
}

/** The first sentence of what is said of it. */
export function gistOf({ doc }: ManualEntry): string {
  const text = doc.find(({ label, isCode }) => label === null && !isCode)?.text ?? '';
  return /^.*?[.](?= |$)/.exec(text)?.[0] ?? text;
}

export function titleOf({ edition }: Manual): string {
  return edition === null ? 'The trade library' : `The trade library, edition ${edition}`;
}

function entriesOf({ groups }: ManualChapter): readonly ManualEntry[] {
  return groups.flatMap(({ entries }) => entries);
}

function compared(a: string, b: string): number {
  const [one, other] = [a.toLowerCase(), b.toLowerCase()];
  return one < other ? -1 : one > other ? 1 : 0;
}
