/** Every name of every sample and of the trade library means something, and what declares it is the same name. */
import { describe, expect, test } from 'vitest';
import { meaningAt, placeOf, wordAt } from '../../../language/src/services/meaning.ts';
import type { Workspace } from '../../../language/src/services/workspace.ts';
import { library } from '../../reference/library.ts';
import { hostileTexts, samples, workspaceOf } from './open.ts';

const workspace = workspaceOf(samples);
const texts = [...samples.keys()].filter((path) => path.endsWith('.thou')).map((path) => `file:///${path}`);
const word = /"[^"\n]*"|[A-Za-z_][A-Za-z0-9_]*(-[A-Za-z0-9_]+)*/g;

/** Fields of the tree that hold no name: figures, dates, prose, words that only the place explains. */
const plain =
  /^(Note\.(date|hand|reason|word)|Because\.text|Expect\.reason|Accept\.reason|Practice\.label|Machining\.label|Measured\.label|Quantity\.(number|margin)|Shown\.digits|TypePower\.exponent|Day\.date|Rule\.severity|(Property|Derive)\.features|Use\.(what|edition)|Axis\.twinWord|Unknown\.word|Unary\.operator|Binary\.operator|TypeProduct\.operator|Prefixed\.operator|AdjustTarget\.even|Adjust\.links|Type\.(limits|optional)|Text\.text)$/;

interface Seen {
  readonly word: string;
  readonly place: string;
  readonly meaning: string | null;
  readonly declaredAs: string | null;
}

function namesOf(within: Workspace, uri: string): Seen[] {
  const text = within.source(uri)!.text;
  const seen: Seen[] = [];
  for (const { index, 0: written } of text.matchAll(word)) {
    const field = wordAt(within, uri, index + 1);
    if (!field || plain.test(`${field.field.node.$type}.${field.field.property}`)) continue;
    if (field.at.start > index + 1 || field.at.end <= index) continue;
    const meaning = meaningAt(within, uri, index + 1);
    const declared = meaning?.declared ? placeOf(within, meaning.declared) : null;
    seen.push({
      word: written.replaceAll('"', ''),
      place: `${uri}:${within.positionsOf(uri).at(index).line + 1} ${field.field.node.$type}.${field.field.property} ${written}`,
      meaning: meaning?.is ?? null,
      declaredAs: declared && within.source(declared.uri)!.text.slice(declared.start, declared.end).replaceAll('"', ''),
    });
  }
  return seen;
}

/** Words that only their place explains, and the root called by its own name. */
const allowed = /^(any|nearest|up|down|linear|log|monotone|spread|engine|was|to-size)$/;

describe('every name is understood, and declared by the same word', () => {
  test.each([...texts, ...library.files.map(({ uri }) => uri)])('%s', (uri) => {
    const names = namesOf(workspace, uri).filter((name) => !allowed.test(name.word));
    expect(names.length).toBeGreaterThan(0);
    expect(names.filter(({ meaning }) => meaning === null).map(({ place }) => place)).toEqual([]);
    const elsewhere = names.filter((name) => name.declaredAs !== null && name.declaredAs !== name.word);
    expect(elsewhere.map(({ place, declaredAs }) => `${place} → ${declaredAs}`)).toEqual([]);
  });
});

const sheet = `use prelude 1
component Plate { axis side = left | right
  width: Length per side
  grade: plain | fine
  /// How long it is. Source: practice.
  length: Length = 2 in }
extend Engine { plate: Plate
  tries: Count }
function twice(x: Length): Length = y * 2 where { y = x }
part Oak: Plate { grade: fine }
part "Old Oak": Plate of Oak { length: 3 in }
derive reach: Length = twice(plate.width[left]) + mean(plate.width over side)
build b { plate: "Old Oak" { width: [left: 1 in, right: 2 in] }
  expect reach within 1 in .. 9 in }
variant c of b { plate.grade: plain }
`;

function at(before: string, word: string): string {
  const found = sheet.indexOf(before) + before.indexOf(word);
  const one = workspaceOf({ 'a.thou': sheet });
  const meaning = meaningAt(one, 'file:///a.thou', found);
  if (!meaning) return 'nothing';
  const { declared } = meaning;
  const place = declared && placeOf(one, declared);
  const line = place && one.positionsOf(place.uri).at(place.start).line + 1;
  return `${meaning.is} ${meaning.name}${place ? ` of ${place.uri.replace('file:///', '')}:${line}` : ''}${meaning.declares ? ', here' : ''}`;
}

test.each([
  ['plate.width[left]', 'plate', 'mount plate of a.thou:7'],
  ['plate.width[left]', 'width', 'slot width of a.thou:3'],
  ['plate.width[left]', 'left', 'label left of a.thou:2'],
  ['axis side = left', 'left', 'label left of a.thou:2, here'],
  ['axis side', 'side', 'axis side of a.thou:2, here'],
  ['per side', 'side', 'axis side of a.thou:2'],
  ['over side', 'side', 'axis side of a.thou:2'],
  ['mean(plate', 'mean', 'builtin mean'],
  ['twice(plate', 'twice', 'function twice of a.thou:9'],
  ['= y * 2', 'y', 'local y of a.thou:9'],
  ['y = x }', 'x', 'local x of a.thou:9'],
  ['(x: Length)', 'x', 'local x of a.thou:9, here'],
  ['grade: fine', 'fine', 'choice fine of a.thou:4'],
  ['plain | fine', 'plain', 'choice plain of a.thou:4, here'],
  ['of Oak', 'Oak', 'part Oak of a.thou:10'],
  ['plate: "Old Oak"', 'Old', 'part Old Oak of a.thou:11'],
  ['variant c of b', ' b', 'nothing'],
  ['of b {', 'b', 'build b of a.thou:13'],
  ['part Oak: Plate', 'Plate', 'component Plate of a.thou:2'],
  ['expect reach', 'reach', 'slot reach of a.thou:12'],
  ['2 in }', 'in', 'unit in'],
  ['width: Length', 'Length', 'measure Length'],
])('%s: %s is %s', (before, word, meaning) => expect(at(before, word)).toBe(meaning));

test('a word means the same with the cursor at its end; blanks and figures mean nothing', () => {
  const one = workspaceOf({ 'a.thou': sheet });
  const start = sheet.indexOf('reach within');
  expect(meaningAt(one, 'file:///a.thou', start + 5)?.name).toBe('reach');
  expect(meaningAt(one, 'file:///a.thou', sheet.indexOf('2 in }'))).toBeNull();
});

test('no place of any text throws', () => {
  for (const [path, text] of hostileTexts()) {
    const one = workspaceOf(new Map([...samples, [path, text]]));
    for (let offset = 0; offset <= text.length; offset += 3) meaningAt(one, `file:///${path}`, offset);
  }
});
