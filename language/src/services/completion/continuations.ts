/** Words that go on a statement: `per`, `as`, `limits`, `within`, `then`, `because`, `over`, `by`. Each is written out with what it needs, and read. */
import type { SourceFile } from '../../grammar/file.ts';
import type { FileResult } from '../../semantics/project.ts';
import type { Library } from '../../semantics/names/library.ts';
import type { Draft } from '../../semantics/schema/draft.ts';
import type { Slot } from '../../semantics/schema/schema.ts';
import { isNone } from '@thou/shared/dimension/dimension';
import { tried } from '../code-actions/trial.ts';
import { pathFrom } from '../paths.ts';
import type { Workspace } from '../workspace.ts';
import { buildNames, written } from './entries.ts';
import type { Breathe, Offer } from './offer.ts';
import type { Surroundings } from './probe.ts';
import { escaped, plain } from './snippets.ts';

interface Continuation {
  readonly word: string;
  /** What the statement must read like up to here. */
  readonly after: RegExp;
  /** Ways to go on, the likeliest first: the first that is read without a new mistake is offered. */
  snippets(about: About): readonly string[];
}

/** What stands right before the place, and what the file knows. */
interface About {
  readonly draft: Draft;
  /** The name before the place, and the figure that it ends in. */
  readonly name: string;
  readonly slot: Slot | null;
  /** A unit of the type that is declared on the line; empty where it has none. */
  readonly unit: string;
  /** Builds and variants of the file. */
  readonly builds: readonly string[];
  /** Tables on the disk, as the file names them. */
  readonly tables: readonly string[];
}

const NAME = String.raw`[A-Za-z_][\w.-]*(?:\[[^\]\n]*\])?`;
const mostTried = 6;

const continuations: readonly Continuation[] = [
  {
    word: 'limits',
    after: /:\s*[A-Z]\w*$/,
    snippets: () => ['limits'],
  },
  {
    word: 'per',
    after: /:\s*[A-Z]\w*(?: limits)?(?: per [\w-]+)*$/,
    snippets: ({ draft }) =>
      draft
        .axisNames(0)
        .slice(0, mostTried)
        .map((axis) => `per \${1:${axis}}`),
  },
  {
    word: 'as',
    after: /:\s*[A-Z]\w*(?: limits)?(?: per [\w-]+)*$/,
    snippets: ({ unit }) => [`as \${1:0.000${unit === '' ? '' : ` ${unit}`}}`],
  },
  {
    word: 'within',
    after: new RegExp(`(?:expect|accept|and) ${NAME}$`),
    snippets: ({ slot, draft, unit }) => limitsFor(slot, draft, unit),
  },
  {
    word: 'because',
    after: /\bwithin\b.*\S$|(?:<=|>=|==|<|>)\s*\S.*$/,
    snippets: () => ['because "${1:why}"'],
  },
  {
    word: 'then',
    after: new RegExp(`adjust (?:even )?${NAME}$`),
    snippets: ({ name }) => [`then \${1:${escaped(name)}}`],
  },
  {
    word: 'over',
    after: new RegExp(`\\(\\s*${NAME}$`),
    snippets: ({ slot, draft }) =>
      (slot?.axes ?? []).map((axis) => `over \${1:${draft.axes[axis]?.name ?? ''}}`).slice(0, mostTried),
  },
  {
    word: 'by',
    after: /\][ \w^/*-]*$/,
    snippets: ({ draft }) =>
      draft.slots
        .filter(({ type, mount }) => type.is === 'choice' && mount === 0)
        .map(({ name }) => `by \${1:${name}}`)
        .slice(0, mostTried),
  },
  {
    word: 'by',
    after: new RegExp(`\\(.* over [\\w-]+$`),
    snippets: ({ draft }) =>
      draft.slots
        .filter(({ type, mount }) => type.is === 'index' && mount === 0)
        .map(({ name }) => `by \${1:${name}}`)
        .slice(0, mostTried),
  },
  {
    word: 'of',
    after: /^variant [^{]*\S$/,
    snippets: ({ builds }) => builds.slice(-mostTried).map((build) => `of \${1:${build}} {\n  $0\n}`),
  },
  {
    word: 'from',
    after: new RegExp(`${NAME}:$`),
    snippets: ({ slot, tables }) =>
      slot && (slot.axes.length > 0 || slot.type.is === 'curve')
        ? tables.slice(0, mostTried).map((table) => `from "\${1:${escaped(table)}}"`)
        : [],
  },
];

/** Only behind a blank: a word that is not finished does not end in one. */
export async function continuationsAt(
  workspace: Workspace,
  source: SourceFile,
  { word, base, text }: Surroundings,
  breathe: Breathe,
): Promise<Offer[]> {
  const line = /[^\n{;]*$/.exec(text.slice(0, word.start - base))![0];
  if (!/\S[ \t]+$/.test(line)) return [];
  const before = line.trimEnd();
  const begun = text.slice(word.start - base, word.at - base);
  const due = continuations.filter((one) => one.word.startsWith(begun) && one.after.test(before));
  if (due.length === 0) return [];
  const { uri } = source;
  const { draft, setting } = workspace.result(uri).ground;
  const name = new RegExp(`(${NAME}):?$`).exec(before)?.[1] ?? '';
  const slot = slotNamed(name.replace(/\[[^\]]*\]/g, ''), draft);
  const declared = [...before.matchAll(/:\s*([A-Z]\w*)/g)].at(-1)?.[1] ?? '';
  // a figure of a component that nothing mounts yet is known by its text alone
  const own = new RegExp(`(?:^|[\\s{,])${escapedName(name)}:\\s*([A-Z]\\w*)`).exec(text)?.[1] ?? '';
  const unit = unitOf(declared === '' ? own : declared, draft, setting.library);
  const known = errorsIn(workspace.result(uri));
  const about: About = {
    draft,
    name,
    slot,
    unit,
    builds: buildNames(source).map(written),
    tables: tablesFor(workspace, uri),
  };
  const offers: Offer[] = [];
  for (const one of due)
    for (const snippet of one.snippets(about)) {
      await breathe();
      const edit = { start: word.start, end: word.end, text: plain(snippet) };
      const after = errorsIn(tried(workspace, uri, [edit]));
      if ([...after].some(([code, count]) => count > (known.get(code) ?? 0))) continue;
      offers.push({ label: one.word, kind: 14, rank: 0, snippet });
      break;
    }
  return offers;
}

function tablesFor(workspace: Workspace, uri: string): string[] {
  return workspace.tables().flatMap((table) => pathFrom(uri, table) ?? []);
}

/** How often each mistake is made. */
function errorsIn({ problemsSoFar }: Pick<FileResult, 'problemsSoFar'>): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { code, severity } of problemsSoFar)
    if (severity === 'error') counts.set(code, (counts.get(code) ?? 0) + 1);
  return counts;
}

function escapedName(name: string): string {
  return name.replace(/[^\w-]/g, '.');
}

/** In which figures of that type are shown, else its basic unit; empty where it has none. */
function unitOf(type: string, { slots }: Draft, library: Library): string {
  const found = library.measure(type);
  if (!found || isNone(found.dimension)) return '';
  const shown = slots.find(
    (slot) => slot.type.is === 'measure' && slot.type.measure.dimension === found.dimension && slot.shown[0]?.unit,
  );
  return shown?.shown[0]?.unit?.symbol ?? library.units.offered(found.dimension)[0]?.symbol ?? '';
}

function limitsFor(slot: Slot | null, draft: Draft, declared: string): readonly string[] {
  const own =
    slot &&
    draft.slots.find(
      ({ name, type, mount }) => mount === slot.mount && type.is === 'limits' && name.startsWith(slot.name),
    );
  const unit = slot?.shown[0]?.unit?.symbol ?? declared;
  return [
    ...(own ? [`within \${1:${escaped(own.path)}}`] : []),
    `within \${1:0}..\${2:1}${unit === '' ? '' : ` ${unit}`}`,
  ];
}

function slotNamed(path: string, draft: Draft): Slot | null {
  const [first = '', ...rest] = path.split('.');
  let found = draft.lookUp(first, 0);
  for (const name of rest) found = found?.is === 'mount' ? draft.inside(found.mount, name) : null;
  const slot = found?.is === 'slot' ? draft.slots[found.slot]! : null;
  return slot ?? draft.slots.find(({ name }) => name === path) ?? null;
}
