/** What may be written at a place. The grammar says what sort of word is due, a trial which of them fit; more about one is looked up when asked for. */
import type { CompletionList, Position } from 'vscode-languageserver-protocol';
import { parseFile, type SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import type { FileResult } from '../../semantics/project.ts';
import { toOffset } from '../positions.ts';
import { endOf, reservedWords } from '../../grammar/tokens.ts';
import type { Workspace } from '../workspace.ts';
import { continuationsAt } from './continuations.ts';
import { buildNames, entriesAt } from './entries.ts';
import { filesAt } from './files.ts';
import { clauseWords, declarationWords, membersAt } from './members.ts';
import { namesAt } from './names.ts';
import { itemOf, type Abilities, type Breathe, type Offer } from './offer.ts';
import { probe, surroundings, type Found, type Surroundings } from './probe.ts';
import { plain } from './snippets.ts';
import { Trial } from './trial.ts';
import { checksAt, deviation, namesIn, notesAt, typesAt, unitsAt } from './words.ts';

export async function completion(
  workspace: Workspace,
  uri: string,
  position: Position,
  can: Abilities,
  breathe: Breathe,
): Promise<CompletionList | null> {
  const source = workspace.source(uri);
  if (source === undefined) return null;
  const positions = workspace.positionsOf(uri);
  const place = surroundings(source, toOffset(positions, position));
  const all = await offersAt(workspace, source, place, breathe);
  const offers = await readable(once(all), source, place, breathe);
  // the text went on meanwhile: what was found is of an older one
  if (workspace.source(uri) !== source) return null;
  offers.sort((a, b) => a.rank - b.rank);
  // names that do not fit are shown once nothing else begins as the word does
  return {
    isIncomplete: all.some(({ kind }) => kind === 10 || kind === 5),
    items: offers.map((offer, i) => itemOf(offer, i, place.word, uri, positions, can)),
  };
}

async function offersAt(
  workspace: Workspace,
  source: SourceFile,
  place: Surroundings,
  breathe: Breathe,
): Promise<Offer[]> {
  if (place.isInComment) return [];
  if (place.quoted) {
    const files = filesAt(workspace, source.uri, place);
    return files.length > 0 ? files : partsInQuotes(workspace, source, place, breathe);
  }
  // a word would grow together with what follows it
  if (/[\w"]/.test(source.text.charAt(place.word.end))) return [];
  const { ground, outcomes } = workspace.result(source.uri);
  const onlyUnits = touches(place);
  if (place.depth === 0 && isAtEdge(source.text, place.word.start)) return entriesAt(source, ground, workspace);
  const offers: Offer[] = [];
  for (const found of probe(place)) {
    if (found.form === 'alone' ? crowds(place) : goesOn(place, found.form)) continue;
    if (onlyUnits && !/[uU]nit$|^to$/.test(found.property)) continue;
    await breathe();
    const trial = new Trial(ground, source.uri, found.item, found.node, basesOf(source, found.item));
    offers.push(...(await offersFor(found, trial, { source, place, result: { ground, outcomes }, breathe })));
  }
  if (!onlyUnits) offers.push(...(await continuationsAt(workspace, source, place, breathe)));
  return offers;
}

/** A name in quotes is asked for as if it stood there bare: only parts have such names. */
async function partsInQuotes(
  workspace: Workspace,
  source: SourceFile,
  place: Surroundings,
  breathe: Breathe,
): Promise<Offer[]> {
  const start = place.base + place.quoted!.startOffset;
  const end = place.base + endOf(place.quoted!);
  const isClosed = end - start > 1 && source.text.charAt(end - 1) === '"';
  const bare: Surroundings = { ...place, word: { start, at: end, end }, quoted: null };
  const { ground, outcomes } = workspace.result(source.uri);
  const offers: Offer[] = [];
  for (const found of probe(bare).filter(({ form }) => form === 'alone')) {
    const trial = new Trial(ground, source.uri, found.item, found.node, basesOf(source, found.item));
    offers.push(...(await offersFor(found, trial, { source, place: bare, result: { ground, outcomes }, breathe })));
  }
  return offers.flatMap((offer): Offer[] => {
    const { subject } = offer;
    if (subject?.is !== 'part') return [];
    return [{ ...offer, label: subject.name, from: start + 1, to: isClosed ? end - 1 : end }];
  });
}

/** Words of one sort are written alike: one of them is put into the text, and where it makes a mistake of form none is offered. */
async function readable(
  offers: readonly Offer[],
  source: SourceFile,
  { word }: Surroundings,
  breathe: Breathe,
): Promise<Offer[]> {
  const before = errorsOf(source);
  const known = new Map<string, boolean>();
  const left: Offer[] = [];
  for (const offer of offers) {
    const { label, kind, snippet, from } = offer;
    const sort = `${kind} ${from ?? ''} ${kind === 14 || kind === 17 ? label : (snippet?.replace(/[\w.-]+/g, 'x') ?? '')}`;
    if (!known.has(sort)) {
      await breathe();
      known.set(sort, errorsOf(parseFile(source.uri, textWith(source.text, offer, word), source)) <= before);
    }
    if (known.get(sort) === true) left.push(offer);
  }
  return left;
}

/** The text with an offer taken, its gaps filled in. */
function textWith(text: string, { snippet, label, from, to }: Offer, word: Surroundings['word']): string {
  const written = snippet === undefined ? label : plain(snippet);
  return text.slice(0, from ?? word.start) + written + text.slice(to ?? word.end);
}

function errorsOf({ problems }: SourceFile): number {
  return problems.filter(({ severity }) => severity === 'error').length;
}

/** What follows on the line can neither be left over nor be taken up by what is begun here. */
function goesOn({ text, base, word }: Surroundings, form: Found['form']): boolean {
  const rest = text.slice(word.end - base);
  return !/^[ \t]*(?:$|[\r\n},]|\/[/*]|[A-Za-z_][\w.-]*(?:\[[^\]\r\n]*\])?[ \t]*[:{])/.test(
    form === 'key' ? rest.replace(/^[ \t]*\]/, '') : rest,
  );
}

/** A word is put before another one that is no sign, no head of a figure and no word of the language. */
function crowds({ text, base, word }: Surroundings): boolean {
  const rest = text.slice(word.end - base);
  const [, next] = /^[ \t]*([A-Za-z_][\w-]*|["\d.])/.exec(rest) ?? [];
  const isHead = /^[ \t]+[A-Za-z_][\w.-]*(?:\[[^\]\r\n]*\])?[ \t]*[:{]/.test(rest);
  // `name: | OTHER {`: the value is there already, with figures of its own
  const isValue = /:[ \t]*$/.test(text.slice(0, word.start - base)) && !/^[^:\r\n]*:/.test(rest.split('{')[0] ?? '');
  return word.start === word.end && next !== undefined && !(isHead && !isValue) && !reservedWords.has(next);
}

/** Right behind a figure only a unit can stand, behind a text or a bracket nothing. */
function touches({ text, base, word }: Surroundings): boolean {
  return /[\w"\])}%°]/.test(text.charAt(word.start - base - 1));
}

interface Asked {
  readonly source: SourceFile;
  readonly place: Surroundings;
  readonly result: Pick<FileResult, 'ground' | 'outcomes'>;
  readonly breathe: Breathe;
}

async function offersFor(
  found: Found,
  trial: Trial,
  { source, place, result: { ground, outcomes }, breathe }: Asked,
): Promise<Offer[]> {
  const { node, property, form, item } = found;
  const key = `${node.$type}.${property}`;
  if (form === 'note') return key === 'Note.word' ? notesAt(found, trial, ground, place.text) : [];
  if (form === 'clause')
    return key === 'RefStep.name' && node.$container?.$container?.$type === 'When'
      ? clauseWords(found, trial, ground)
      : [];
  if (key === 'PathStep.name' && (form === 'accept' || node.$container?.$container?.$type === 'Accept')) {
    const outcome = outcomeOf(item, outcomes);
    const checks = checksAt(found, outcome, pathStart(place));
    return form === 'accept' ? checks : checks.filter(({ label }) => acceptFits(label, node as ast.PathStep, trial));
  }
  switch (key) {
    case 'RefStep.name':
      return namesAt(found, trial, ground, writtenIn(place), breathe);
    case 'Quantity.unit':
    case 'Quantity.marginUnit':
    case 'List.unit':
    case 'List.to':
    case 'Shown.unit':
      return unitsAt(found, trial, ground);
    case 'TypeName.name':
      return form === 'alone' ? typesAt(found, trial, ground) : [];
    case 'Property.name':
      return declarationWords(found, trial, ground, place);
    case 'PathStep.name':
      return node.$container?.$container?.$type === 'Given'
        ? membersAt(found, trial, ground, place, () => deviation(outcomeOf(item, outcomes)))
        : namesIn(found, trial, ground, []);
    default:
      return form === 'member' ? [] : namesIn(found, trial, ground, buildNames(source));
  }
}

function outcomeOf(item: ast.Item, outcomes: FileResult['outcomes']): FileResult['outcomes'][number] | undefined {
  return 'name' in item ? outcomes.find(({ binding }) => binding.name === item.name) : undefined;
}

/** The word as far as it is written. */
function writtenIn({ text, base, word }: Surroundings): string {
  return text.slice(word.start - base, word.at - base);
}

/** The limits behind the word stay as they are. */
function acceptFits(id: string, step: ast.PathStep, trial: Trial): boolean {
  const path = step.$container as ast.Path;
  const { steps } = path;
  path.steps = id.split('.').map((name): ast.PathStep => ({ $type: 'PathStep', $container: path, name, keys: [] }));
  const fit = trial.fits();
  path.steps = steps;
  return fit;
}

function isAtEdge(text: string, start: number): boolean {
  return start === 0 || /[\r\n\uFEFF]/.test(text.charAt(start - 1));
}

/** Where the dotted path begins that the word is the end of. */
function pathStart({ text, base, word }: Surroundings): number {
  return word.start - (/(?:[A-Za-z_][\w-]*\.)*$/.exec(text.slice(0, word.start - base))?.[0].length ?? 0);
}

/** What a variant stands on, nearest first. */
function basesOf({ blocks }: SourceFile, item: ast.Item): ast.Item[] {
  const bases: ast.Item[] = [];
  for (let name = item.$type === 'Variant' ? item.base : undefined; name !== undefined;) {
    const base = blocks
      .map(({ parsed }) => parsed.item)
      .find((one) => (one?.$type === 'Build' || one?.$type === 'Variant') && one.name === name);
    if (!base || bases.includes(base)) break;
    bases.unshift(base);
    name = base.$type === 'Variant' ? base.base : undefined;
  }
  return bases;
}

function once(offers: readonly Offer[]): Offer[] {
  const known = new Map<string, Offer>();
  for (const offer of offers) {
    const key = `${offer.label} ${offer.kind}`;
    const first = known.get(key);
    if (!first || offer.rank < first.rank) known.set(key, offer);
  }
  return [...known.values()];
}
