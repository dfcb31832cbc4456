/** What may begin a line of a body: figures and parts of its mount, blocks, expectations; in a component the words of a declaration. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import { parseBlock } from '../../grammar/parser.ts';
import type { Ground } from '../../semantics/bind/build.ts';
import type { Slot } from '../../semantics/schema/schema.ts';
import type { Offer } from './offer.ts';
import { PROBE, type Found, type Surroundings } from './probe.ts';
import { sampleValues } from './sample-values.ts';
import { escaped, plain } from './snippets.ts';
import { expectation } from './templates.ts';
import { pathTo, type Trial } from './trial.ts';
import { typeText } from './type-text.ts';

/**
 * Figures and parts inside the mount that the body belongs to. With a sign behind the word only its name is wanted. `accept`: what could be
 * accepted in the build.
 */
export function membersAt(
  found: Found,
  trial: Trial,
  ground: Ground,
  place: Surroundings,
  accept: () => string | null,
): Offer[] {
  const step = found.node as ast.PathStep;
  const path = step.$container as ast.Path;
  const given = path.$container as ast.Given;
  const body = given.$container as ast.Body;
  const at = path.steps.indexOf(step);
  const layer = layerOf(body);
  if (at < 0) return [];
  const before = path.steps.slice(0, at).map(({ name }) => name);
  const { draft } = trial;
  let mount = trial.mount;
  for (const name of before) {
    const next = draft.inside(mount, name);
    if (next?.is !== 'mount') return [];
    mount = next.mount;
  }
  const prefix = [...pathTo(body), ...before];
  const isTaken = (name: string): boolean => trial.taken.has([...prefix, name].join('.'));
  const whole = found.form === 'member';
  const offers: Offer[] = [];
  for (const name of draft.namesInside(mount)) {
    const one = draft.inside(mount, name);
    if (one?.is === 'slot') {
      const slot = draft.slots[one.slot]!;
      if (!canBeGiven(slot, layer) || isTaken(name)) continue;
      const subject = { is: 'slot', name: slot.path } as const;
      const offer: Offer = {
        label: name,
        kind: 10,
        detail: typeText(slot, draft),
        rank: slot.sort === 'derive' ? 2 : 1,
        subject,
      };
      if (!whole) offers.push(offer);
      else {
        const snippet = figureFor(slot, [...before, name], given, trial, ground);
        if (snippet !== null) offers.push({ ...offer, snippet: `${name}: ${snippet}` });
      }
    } else if (one) {
      const { component, path: dotted } = draft.mounts[one.mount]!;
      const offer: Offer = { label: name, kind: 9, detail: component, rank: 1, subject: { is: 'mount', name: dotted } };
      offers.push(whole ? { ...offer, snippet: before.length > 0 ? `${name} { $0 }` : block(name) } : offer);
    }
  }
  if (!whole) return offers.filter(({ label }) => fitsAs(label, step, trial));
  return before.length === 0 ? [...offers, ...wordsOf(body, trial, ground, place, accept())] : offers;
}

/** The figure that stands there already, under another name. */
function fitsAs(name: string, step: ast.PathStep, trial: Trial): boolean {
  step.name = name;
  const fit = trial.fits();
  step.name = PROBE;
  return fit;
}

function canBeGiven({ sort, type }: Slot, layer: Layer): boolean {
  if (sort === 'derive') return layer === 'measured';
  return type.is !== 'limits' || layer === 'other';
}

type Layer = 'measured' | 'machining' | 'other';

function layerOf(body: AstNode): Layer {
  for (let step: AstNode | undefined = body; step; step = step.$container) {
    if (step.$type === 'Measured') return 'measured';
    if (step.$type === 'Machining') return 'machining';
  }
  return 'other';
}

/** The first of the spellings that the language takes here. */
function figureFor(slot: Slot, path: readonly string[], given: ast.Given, trial: Trial, ground: Ground): string | null {
  const body = given.$container as ast.Body;
  for (const snippet of sampleValues(slot, slot.axes, trial.draft, ground.setting.library)) {
    const made = madeGiven(`${path.join('.')}: ${plain(snippet)}`);
    if (!made) continue;
    body.members = [Object.assign(made, { $container: body })];
    const fit = trial.fits();
    body.members = [given];
    if (fit) return snippet;
  }
  return null;
}

const made = new Map<string, ast.Given | null>();

function madeGiven(text: string): ast.Given | null {
  const known = made.get(text);
  if (known !== undefined) return known;
  const { item, problems } = parseBlock(`build ${PROBE} { ${text} }`);
  const member = item?.$type === 'Build' && problems.length === 0 ? item.body.members[0] : undefined;
  const given = member?.$type === 'Given' ? member : null;
  if (made.size > 5000) made.clear();
  made.set(text, given);
  return given;
}

function block(head: string): string {
  return `${head} {\n  $0\n}`;
}

function wordsOf(body: ast.Body, trial: Trial, ground: Ground, place: Surroundings, accept: string | null): Offer[] {
  const owner = body.$container;
  if (owner?.$type !== 'Build' && owner?.$type !== 'Variant') return [];
  const date = newestDate(place.text) ?? '2026-01-01';
  const words: Offer[] = [
    { label: 'machining', kind: 14, rank: 3, snippet: block(`machining "\${1:Order}" on \${2:${date}}`) },
    { label: 'measured', kind: 14, rank: 3, snippet: block(`measured "\${1:Readings}" on \${2:${date}}`) },
  ];
  if (accept !== null) words.push({ label: 'accept', kind: 14, rank: 3, snippet: `accept ${accept}` });
  const demand = expectation(trial, ground);
  if (demand === null) return words;
  words.push({ label: 'expect', kind: 14, rank: 3, snippet: `expect ${demand}` });
  // at the left edge these words would begin an entry of the file
  if (place.word.start === 0 || /[\r\n]/.test(place.text.charAt(place.word.start - place.base - 1))) return words;
  const free = freeName('figure', (name) => trial.draft.inside(0, name) !== null);
  words.push({ label: 'derive', kind: 14, rank: 3, snippet: `derive \${1:${free}}: \${2:Ratio} = \${3:1}` });
  const rule = freeName('check', (name) => trial.draft.rules.some(({ id }) => id === name));
  words.push({
    label: 'rule',
    kind: 14,
    rank: 3,
    snippet: `rule \${1:${rule}}: \${4|warning,error,advice|} {\n  expect ${demand}\n  because "\${5:why}"\n}`,
  });
  return words;
}

export function freeName(wanted: string, isTaken: (name: string) => boolean): string {
  let name = wanted;
  for (let n = 2; isTaken(name); n += 1) name = `${wanted}-${n}`;
  return name;
}

export function newestDate(text: string): string | null {
  return (text.match(/\b\d{4}-\d{2}-\d{2}\b/g) ?? []).sort().at(-1) ?? null;
}

/** In a component: no names are known beforehand, only how a declaration begins. */
export function declarationWords(found: Found, trial: Trial, ground: Ground, place: Surroundings): Offer[] {
  if (found.node.$type !== 'Property' || found.form !== 'member') return [];
  if (place.word.start === place.base || /[\r\n]/.test(place.text.charAt(place.word.start - place.base - 1))) return [];
  const free = (wanted: string): string => freeName(wanted, (name) => trial.draft.inside(trial.mount, name) !== null);
  const words: Offer[] = [
    { label: 'derive', kind: 14, rank: 1, snippet: `derive \${1:${escaped(free('figure'))}}: \${2:Ratio} = \${3:1}` },
    {
      label: 'axis',
      kind: 14,
      rank: 1,
      snippet: `axis \${1:${freeName('places', (name) => trial.draft.axisNamed(name, trial.mount) !== null)}} = \${2:first | second}`,
    },
  ];
  const demand = expectation(trial, ground);
  const rule = freeName('check', (name) =>
    trial.draft.rules.some((one) => one.mount === trial.mount && one.name === name),
  );
  if (demand !== null)
    words.push({
      label: 'rule',
      kind: 14,
      rank: 1,
      snippet: `rule \${1:${rule}}: \${4|warning,error,advice|} {\n  expect ${demand}\n  because "\${5:why}"\n}`,
    });
  return words;
}

/** Clauses of a rule that are not there yet. */
export function clauseWords(found: Found, trial: Trial, ground: Ground): Offer[] {
  const when = found.node.$container?.$type === 'When' ? found.node.$container : found.node.$container?.$container;
  const rule = when?.$container;
  if (when?.$type !== 'When' || rule?.$type !== 'Rule') return [];
  const present = new Set((rule as ast.Rule).clauses.filter((clause) => clause !== when).map(({ $type }) => $type));
  const demand = expectation(trial, ground);
  const own = trial.draft.mounts[trial.mount]?.slots
    .map((slot) => trial.draft.slots[slot]!)
    .find(({ sort }) => sort === 'property');
  const words: Offer[] = [];
  if (!present.has('When')) words.push({ label: 'when', kind: 14, rank: 1, snippet: 'when ${1:yes}' });
  if (!present.has('Expect') && demand !== null)
    words.push({ label: 'expect', kind: 14, rank: 1, snippet: `expect ${demand}` });
  if (!present.has('Because')) words.push({ label: 'because', kind: 14, rank: 1, snippet: 'because "${1:why}"' });
  if (!present.has('Adjust') && own)
    words.push({ label: 'adjust', kind: 14, rank: 1, snippet: `adjust \${1:${own.name}}` });
  return words;
}
