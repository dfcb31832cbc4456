/** Definitions, uses, highlights, outlines, links, calls: over the samples, and at every place of broken texts. */
import { describe, expect, test } from 'vitest';
import type { Location, Range } from 'vscode-languageserver-types';
import { hierarchyAt, inputsOf, usersOf } from '../../../language/src/services/call-hierarchy.ts';
import { definitionAt } from '../../../language/src/services/definition.ts';
import { highlightsAt } from '../../../language/src/services/highlight.ts';
import { implementationsAt } from '../../../language/src/services/implementation.ts';
import { linksOf } from '../../../language/src/services/links.ts';
import { toOffset } from '../../../language/src/services/positions.ts';
import { referencesAt } from '../../../language/src/services/references.ts';
import { signatureHelpAt } from '../../../language/src/services/signature-help.ts';
import { flatSymbolsOf, symbolsOf } from '../../../language/src/services/symbols.ts';
import { typeDefinitionAt } from '../../../language/src/services/type-definition.ts';
import { resolvedSymbol, workspaceSymbols } from '../../../language/src/services/workspace-symbols.ts';
import { breathe, hostileTexts, marked, samples, workspaceOf } from './open.ts';

const workspace = workspaceOf(samples);
const thou = [...samples.keys()].filter((path) => path.endsWith('.thou')).map((path) => `file:///${path}`);

function textAt(uri: string, range: Range): string {
  const positions = workspace.positionsOf(uri);
  return workspace.source(uri)!.text.slice(toOffset(positions, range.start), toOffset(positions, range.end));
}

function offsetIn(uri: string, before: string, word = before): number {
  const from = workspace.source(uri)!.text.indexOf(before);
  if (from < 0) throw new Error(`${before} is not in ${uri}`);
  return from + before.indexOf(word);
}

const told = ({ uri, range }: Location): string =>
  `${uri.replace('file:///', '')}:${range.start.line + 1} ${textAt(uri, range)}`;

describe('definition', () => {
  test.each(thou)('%s: from every name to a place whose text is that name', (uri) => {
    const { text } = workspace.source(uri)!;
    let found = 0;
    for (const { index, 0: name } of text.matchAll(/[A-Za-z_][A-Za-z0-9_]*(-[A-Za-z0-9_]+)*/g)) {
      const definition = definitionAt(workspace, uri, index);
      if (!definition || definition.range.end.character === 0) continue;
      const there = textAt(definition.uri, definition.range);
      if (name !== 'was') expect(there.includes(name) || name === there.toLowerCase(), `${name} → ${there}`).toBe(true);
      found += 1;
    }
    if (text.length > 500) expect(found).toBeGreaterThan(5);
  });
  test('into the trade library, to parts, and to files', () => {
    const at = (file: string, before: string, word?: string) =>
      definitionAt(workspace, `file:///${file}`, offsetIn(`file:///${file}`, before, word));
    expect(told(at('fell-427.thou', 'block.bore: 4.1250', 'bore')!)).toMatch(/^prelude:\/block\.thou:\d+ bore$/);
    expect(told(at('fell-427.thou', 'with mic-3', 'mic-3')!)).toMatch(/^parts\.thou:\d+ mic-3$/);
    expect(at('fell-427.thou', '"fell-bores.csv"', 'fell')!.uri).toBe('file:///fell-bores.csv');
    expect(told(at('fell-427.thou', 'variant thin-gasket of fell-427', 'fell-427')!)).toMatch(
      /^fell-427\.thou:\d+ fell-427$/,
    );
  });
  test('of a figure the component, of a property all that set it', async () => {
    const uri = 'file:///fell-427.thou';
    const bore = offsetIn(uri, 'block.bore: 4.1250', 'bore');
    expect(told(typeDefinitionAt(workspace, uri, bore)!)).toMatch(/^prelude:\/block\.thou:\d+ Block$/);
    const set = (await implementationsAt(workspace, uri, bore, breathe))!.map(told);
    expect(set).toContain('fell-427.thou:38 bore');
    expect(set.length).toBeGreaterThan(1);
    expect(set.every((one) => one.endsWith(' bore'))).toBe(true);
  });
});

describe('uses', () => {
  const files = {
    'lib.thou':
      'component Plate { width: Length per row }\naxis row = 1..2\nextend Engine { plate: Plate }\nfunction half(x: Length): Length = x / 2\n',
    'a.thou':
      'use prelude 1\nuse "lib.thou"\nbuild a { plate.width: [1 in, 2 in]\n expect plate.width[1] within 0 in .. half(plate.width[2]) }\n',
    'b.thou': 'use prelude 1\nuse "lib.thou"\nbuild b { plate { width: [1 in, 2 in] } }\n',
    'c.thou': 'use prelude 1\n// width\nbuild c { }\n',
  };
  const small = workspaceOf(files);
  const at = (name: keyof typeof files, before: string) => files[name].indexOf(before);
  const places = (found: readonly Location[] | null): string[] =>
    (found ?? []).map(
      ({ uri, range }) => `${uri.replace('file:///', '')} ${range.start.line}:${range.start.character}`,
    );

  test('in every file, with and without the declaration', async () => {
    const uses = ['a.thou 2:16', 'a.thou 3:14', 'a.thou 3:49', 'b.thou 2:18'];
    expect(places(await referencesAt(small, 'file:///lib.thou', at('lib.thou', 'width'), false, breathe))).toEqual(
      uses,
    );
    expect(places(await referencesAt(small, 'file:///b.thou', at('b.thou', 'width'), true, breathe))).toEqual([
      'lib.thou 0:18',
      ...uses,
    ]);
    expect(places(await referencesAt(small, 'file:///lib.thou', at('lib.thou', 'half'), false, breathe))).toEqual([
      'a.thou 3:38',
    ]);
  });
  test('a local only in its function', async () => {
    expect(places(await referencesAt(small, 'file:///lib.thou', at('lib.thou', 'x:'), true, breathe))).toEqual([
      'lib.thou 3:14',
      'lib.thou 3:35',
    ]);
  });
  test('in the file: where it is set and where it is read', () => {
    const marks = highlightsAt(small, 'file:///a.thou', at('a.thou', 'width'))!;
    expect(marks.map(({ kind }) => kind)).toEqual([3, 2, 2]);
  });
  test.each(thou)('%s: every name is among its own uses', (uri) => {
    const { text } = workspace.source(uri)!;
    let looked = 0;
    for (const { index } of text.matchAll(/\b[a-z][a-z-]{3,}/g)) {
      if ((looked += 1) % 9) continue;
      const marks = highlightsAt(workspace, uri, index);
      if (marks === null) continue;
      const positions = workspace.positionsOf(uri);
      const here = marks.filter(
        ({ range }) => toOffset(positions, range.start) <= index && index <= toOffset(positions, range.end),
      );
      expect(here, `${text.slice(index, index + 20)} at ${index}`).toHaveLength(1);
    }
  });
});

describe('outline', () => {
  test('of a build, with figures', () => {
    const outline = symbolsOf(workspace, 'file:///fell-427.thou')!;
    const lines: string[] = [];
    const tell = (symbols: typeof outline, depth: number): void => {
      for (const { name, detail, children } of symbols) {
        lines.push(`${'  '.repeat(depth)}${name}${detail ? ` | ${detail}` : ''}`);
        tell(children ?? [], depth + 1);
      }
    };
    tell(outline, 0);
    expect(lines.join('\n')).toMatchSnapshot();
  });
  test.each(thou)('%s: the word is inside the whole, in both forms', (uri) => {
    const inside = (inner: Range, outer: Range): boolean => {
      const positions = workspace.positionsOf(uri);
      return (
        toOffset(positions, outer.start) <= toOffset(positions, inner.start) &&
        toOffset(positions, inner.end) <= toOffset(positions, outer.end)
      );
    };
    const check = (symbols: NonNullable<ReturnType<typeof symbolsOf>>): number =>
      symbols.reduce((sum, one) => {
        expect(inside(one.selectionRange, one.range), one.name).toBe(true);
        return sum + 1 + check(one.children ?? []);
      }, 0);
    expect(flatSymbolsOf(workspace, uri)).toHaveLength(check(symbolsOf(workspace, uri)!));
  });
  test('names of all files, best first, told where they are when chosen', () => {
    const found = workspaceSymbols(workspace, 'quench');
    expect(found[0]!.name).toBe('quench');
    const [first] = found;
    const { location } = resolvedSymbol(workspace, first!) as { location: Location };
    expect(told(location)).toMatch(/^prelude:\/[\w-]+\.thou:\d+ quench$/);
    expect(workspaceSymbols(workspace, 'fell427').map(({ name }) => name)).toContain('fell-427');
    expect(workspaceSymbols(workspace, 'zzzzqq')).toEqual([]);
    for (const symbol of workspaceSymbols(workspace, 'b')) {
      const there = resolvedSymbol(workspace, symbol).location as Location;
      expect(textAt(there.uri, there.range).replaceAll('"', '')).toBe(symbol.name);
    }
  });
});

describe('links', () => {
  test('files that are there, sources by https, nothing else', () => {
    const one = workspaceOf({
      'a.thou':
        'use "b.thou"\nuse "gone.thou"\n/// Source: see https://example.org/page, and http://example.org, command:x.\nderive x: Ratio = 1\n// Source: https://example.org/no\n',
      'b.thou': 'use prelude 1\n',
    });
    const links = linksOf(one, 'file:///a.thou')!;
    expect(links.map(({ target }) => target)).toEqual(['file:///b.thou', 'https://example.org/page']);
    expect(links[0]!.range).toEqual({ start: { line: 0, character: 5 }, end: { line: 0, character: 11 } });
  });
  test('of a sample', () => {
    const links = linksOf(workspace, 'file:///fell-427.thou')!.map(({ range }) =>
      textAt('file:///fell-427.thou', range),
    );
    expect(links).toContain('fell-bores.csv');
    expect(links).toContain('parts.thou');
  });
});

describe('signature help', () => {
  const help = (text: string): string => {
    const { text: plain, offset } = marked(text);
    const found = signatureHelpAt(workspaceOf({ 'a.thou': plain }), 'file:///a.thou', offset);
    if (!found) return 'nothing';
    const [first] = found.signatures;
    const [from, to] = (first!.parameters?.[found.activeParameter!]?.label ?? [0, 0]) as [number, number];
    return `${first!.label} at ${first!.label.slice(from, to)}`;
  };
  const head =
    'use prelude 1\nfunction lever(a: Length, b: Force): Torque = a * b\nextend Engine { flow: Ratio against Length }\n';
  test.each([
    [`${head}derive x: Length = hypot(|`, 'hypot(x, y) at x'],
    [`${head}derive x: Length = hypot(1 in, |`, 'hypot(x, y) at y'],
    [`${head}derive x: Length = max(block.bore over |cylinder)`, 'max(x over axis) at axis'],
    [`${head}derive x: Torque = lever(abs(1 in), |2 lbf)`, 'lever(a: Length, b: Force): Torque at b: Force'],
    [`${head}derive x: Torque = lever(abs(|1 in), 2 lbf)`, 'abs(x) at x'],
    [`${head}derive x: Ratio = flow(|0.1 in)`, 'flow(Length): Ratio at Length'],
    [`${head}derive x: Ratio = (|1 + 2)`, 'nothing'],
    [`${head}derive x: Ratio = hypot(1, 2)|`, 'nothing'],
  ])('%s', (text, expected) => expect(help(text)).toBe(expected));
});

describe('what a figure is made of', () => {
  const uri = 'file:///fell-427.thou';
  const [quench] = hierarchyAt(workspace, uri, offsetIn(uri, 'expect quench', 'quench'))!;

  test('inputs, with the words that read them', () => {
    expect(quench!.name).toBe('quench');
    const inputs = inputsOf(workspace, quench!)!;
    expect(inputs.map(({ to }) => to.name)).toEqual(
      expect.arrayContaining(['deck-clearance', 'head-gasket.thickness']),
    );
    for (const { to, fromRanges } of inputs) {
      expect(fromRanges.length).toBeGreaterThan(0);
      for (const range of fromRanges) expect(textAt(quench!.uri, range)).toContain(to.name.split('.').at(-1));
    }
  });
  test('uses, by figures and by rules', () => {
    const users = usersOf(workspace, quench!)!.map(({ from }) => from.name);
    expect(users).toContain('quench-clearance');
    const [deck] = inputsOf(workspace, quench!)!.filter(({ to }) => to.name === 'deck-clearance');
    expect(usersOf(workspace, deck!.to)!.map(({ from }) => from.name)).toContain('quench');
  });
  test('formulas and expectations of a build are among the uses, at their own words', () => {
    const files = {
      'a.thou':
        'use prelude 1\ncomponent Plate { width: Length, height: Length }\nextend Engine { plate: Plate }\nbuild a {\n  plate.width: 2 in\n  plate.height: plate.width * 2\n  expect plate.width within 1 in .. 3 in\n}\n',
    };
    const small = workspaceOf(files);
    const [width] = hierarchyAt(small, 'file:///a.thou', files['a.thou'].indexOf('plate.width * 2') + 6)!;
    const users = usersOf(small, width!)!.map(({ from, fromRanges }) => `${from.name} ${fromRanges[0]?.start.line}`);
    expect(users).toEqual(['plate.height 5', 'expect plate.width within 1 in .. 3 in 6']);
    const [height] = hierarchyAt(small, 'file:///a.thou', files['a.thou'].indexOf('plate.height') + 7)!;
    expect(inputsOf(small, height!)!.map(({ to }) => to.name)).toEqual(['plate.width']);
  });

  test('each says what it is, in the build that the question was asked in', () => {
    const text = `use prelude 1
axis row = 1..3
component Plate {
  width: Length per row as 0.0 in
  derive mean-width: Length as 0.0 in = mean(width over row)
  rule wide: warning { expect mean-width >= 3 in, because "it has to hold" }
}
extend Engine { plate: Plate }
build a { plate.width: [1 in, 2 in, 3 in] }
variant b of a { plate.width: [4 in, 4 in, 4 in] }
`;
    const small = workspaceOf({ 'a.thou': text });
    const details = (place: string): string[] => {
      const [width] = hierarchyAt(small, 'file:///a.thou', text.indexOf(place) + 1) ?? [];
      const [mean] = usersOf(small, width!)!;
      return [width!, mean!.from, ...usersOf(small, mean!.from)!.map(({ from }) => from)].map(
        ({ name, detail }) => `${name}: ${detail}`,
      );
    };
    // on the name, on a number of its list, and where it is declared
    for (const place of ['width: [1', '2 in, 3', 'width: Length'])
      expect(details(place)).toEqual([
        'plate.width: 1.0 in to 3.0 in',
        'plate.mean-width: 2.0 in',
        'plate.wide: rule, out of limits',
      ]);
    expect(details('4 in, 4 in')).toEqual([
      'plate.width: 4.0 in, 3 alike',
      'plate.mean-width: 4.0 in',
      'plate.wide: rule, holds on paper',
    ]);
  });
});

test('no place of any text throws', { timeout: 240_000 }, async () => {
  for (const [path, text] of hostileTexts()) {
    const one = workspaceOf(new Map([...samples, [path, text]]));
    const uri = `file:///${path}`;
    symbolsOf(one, uri);
    linksOf(one, uri);
    for (let offset = 0; offset <= text.length; offset += 11) {
      definitionAt(one, uri, offset);
      typeDefinitionAt(one, uri, offset);
      highlightsAt(one, uri, offset);
      signatureHelpAt(one, uri, offset);
      for (const item of hierarchyAt(one, uri, offset) ?? []) inputsOf(one, item);
    }
    for (let offset = 0; offset <= text.length; offset += 601) await referencesAt(one, uri, offset, true, breathe);
  }
});
