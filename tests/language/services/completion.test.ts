/** What is offered at a place, and that whatever is offered leaves a text as right as it was. */
import type { CompletionItem, InsertReplaceEdit, TextEdit } from 'vscode-languageserver-protocol';
import { describe, expect, it } from 'vitest';
import { parseFile, type SourceFile } from '../../../language/src/grammar/file.ts';
import { scan } from '../../../language/src/grammar/scanner.ts';
import { bindBuild, type Bound } from '../../../language/src/semantics/bind/build.ts';
import { checkParts } from '../../../language/src/semantics/bind/loose-parts.ts';
import { Grounds } from '../../../language/src/semantics/grounds.ts';
import { itemsOf, scopeOf } from '../../../language/src/semantics/names/scope.ts';
import { messages } from '../../../language/src/semantics/problems/messages.ts';
import { Report } from '../../../language/src/semantics/problems/report.ts';
import { resolveCompletion } from '../../../language/src/services/completion/resolve.ts';
import { completion } from '../../../language/src/services/completion/completion.ts';
import { toOffset, toPosition } from '../../../language/src/services/positions.ts';
import type { Workspace } from '../../../language/src/services/workspace.ts';
import { library } from '../../reference/library.ts';
import { breathe, diskOf, hostileTexts, marked, samples, workspaceOf } from './open.ts';

const able = { snippets: true, insertReplace: true, markdown: true };
const plainEditor = { snippets: false, insertReplace: false, markdown: false };
const uri = 'file:///fell-427.thou';
const fell = samples.get('fell-427.thou')!;

function rangeOf(item: CompletionItem): TextEdit['range'] {
  const edit = item.textEdit as TextEdit | InsertReplaceEdit;
  return 'replace' in edit ? edit.replace : edit.range;
}

/** The text with an item taken, as an editor without snippets takes it. */
function taken(workspace: Workspace, text: string, item: CompletionItem): string {
  const positions = workspace.positionsOf(uri);
  const { start, end } = rangeOf(item);
  return text.slice(0, toOffset(positions, start)) + item.textEdit!.newText + text.slice(toOffset(positions, end));
}

/** Every error of form of a text: all that the language says of it before a figure is computed. */
class Reader {
  private readonly library = library.files.map((file) => parseFile(file.uri, file.text));
  private readonly grounds = new Grounds(library.root, library.edition, {
    files: () => ({
      read: (from, path) => {
        const found = disk.resolve(from, path);
        return 'uri' in found ? { uri: found.uri, text: disk.read(found.uri) ?? '' } : found;
      },
    }),
    isUnchanged: () => true,
  });
  private readonly sources = new Map<string, SourceFile>();
  private last: SourceFile | undefined;

  errors(text: string): Map<string, number> {
    const start = (this.last = parseFile(uri, text, this.last));
    const report = new Report();
    const scope = scopeOf(
      start,
      this.library,
      { file: (at) => this.file(at), resolve: (from, path) => disk.resolve(from, path) },
      report,
    );
    const { ground, reports } = this.grounds.of(scope, report);
    checkParts(start, ground);
    let bound: Bound | null = null;
    for (const item of itemsOf(start))
      if (item.$type === 'Build' || item.$type === 'Variant')
        bound = bindBuild(item, uri, ground, item.$type === 'Variant' ? bound : null);
    const counts = new Map<string, number>();
    const add = (code: string): void => void counts.set(code, (counts.get(code) ?? 0) + 1);
    for (const { code, severity } of start.problems) if (severity === 'error') add(code);
    for (const { code, target } of [report, ...reports].flatMap(({ findings }) => findings))
      if (messages[code].severity === 'error' && target.uri === uri) add(code);
    return counts;
  }

  private file(at: string): SourceFile | undefined {
    const text = disk.read(at);
    if (text === undefined) return undefined;
    const known = this.sources.get(at) ?? parseFile(at, text);
    this.sources.set(at, known);
    return known;
  }
}

const disk = diskOf(new Map([...samples].map(([path, text]) => [`file:///${path}`, text])));

const ofForm = /^(syntax|dimension|unit|axes|name|given|declare|list|csv|call|use|solve)\./;
/** What is not finished yet says so: a word behind `expect` is not yet a comparison. */
const notYet = new Set(['given.no-shape']);

/** Takes every item at a place; each error that was not there before, with the item. */
const reader = new Reader();
const workspace = workspaceOf(samples);

async function newErrors(text: string, offset: number): Promise<{ readonly items: number; readonly errors: string[] }> {
  workspace.open(uri, text);
  const before = reader.errors(text);
  const list = await completion(workspace, uri, toPosition(workspace.positionsOf(uri), offset), plainEditor, breathe);
  const edits = (list?.items ?? []).map((item) => ({ item, after: taken(workspace, text, item) }));
  const errors: string[] = [];
  for (const { item, after } of edits) {
    for (const [code, count] of reader.errors(after))
      if (count > (before.get(code) ?? 0) && ofForm.test(code) && !notYet.has(code))
        errors.push(`${item.label}: ${code} (${text.slice(Math.max(0, offset - 30), offset)}▮)`);
  }
  return { items: edits.length, errors };
}

/** Errors of a text once its builds are planned; another layout has other cylinders, and lists that were as long as the old one are no longer. */
const planned = workspaceOf(samples);

function plannedErrors(text: string): number {
  planned.open(uri, text);
  return planned
    .result(uri)
    .problems.filter(({ severity, code }) => severity === 'error' && ofForm.test(code) && !code.startsWith('list.'))
    .length;
}

/** One item of every sort at a place, planned. */
async function newErrorsPlanned(text: string, offset: number): Promise<string[]> {
  workspace.open(uri, text);
  const list = await completion(workspace, uri, toPosition(workspace.positionsOf(uri), offset), plainEditor, breathe);
  const oneOfEach = new Map((list?.items ?? []).map((item) => [item.kind, item]));
  const afters = [...oneOfEach.values()].map((item) => ({ item, after: taken(workspace, text, item) }));
  const before = plannedErrors(text);
  return afters.flatMap(({ item, after }) =>
    plannedErrors(after) > before && !/\b(expect|accept) [\w.-]*$/.test(text.slice(0, offset))
      ? [`${item.label} (${text.slice(Math.max(0, offset - 30), offset)}▮)`]
      : [],
  );
}

/** Places of the sample: where words begin, where they end, and new lines. */
function placesIn(text: string): number[] {
  const { tokens } = scan(text);
  return [...new Set(tokens.flatMap(({ startOffset, image }) => [startOffset, startOffset + image.length]))].sort(
    (a, b) => a - b,
  );
}

const slices = Array.from({ length: 12 }, (_, i) => i);

describe('every item offered for the first sample, taken, leaves no new error', () => {
  const places = placesIn(fell);
  it.each(slices)(
    'at every place where a word begins or ends, part %i',
    async (slice) => {
      const errors: string[] = [];
      let items = 0;
      for (const place of places.filter((_, i) => i % slices.length === slice)) {
        const found = await newErrors(fell, place);
        items += found.items;
        errors.push(...found.errors);
      }
      expect(errors).toEqual([]);
      expect(items).toBeGreaterThan(0);
    },
    240_000,
  );
  it.each(slices)(
    'planned: one of every sort at every fourth place, part %i',
    async (slice) => {
      const errors: string[] = [];
      for (const place of places.filter((_, i) => i % (slices.length * 4) === slice * 4))
        errors.push(...(await newErrorsPlanned(fell, place)));
      expect(errors).toEqual([]);
    },
    240_000,
  );
  it.each(slices)(
    'on every new line, part %i',
    async (slice) => {
      const lines = fell.split('\n');
      const errors: string[] = [];
      for (let i = slice; i < lines.length; i += slices.length) {
        const indent = /^ */.exec(lines[i]!)![0];
        const text = [...lines.slice(0, i), indent, ...lines.slice(i)].join('\n');
        const offset = lines.slice(0, i).join('\n').length + (i === 0 ? 0 : 1) + indent.length;
        errors.push(...(await newErrors(text, offset)).errors);
      }
      expect(errors).toEqual([]);
    },
    240_000,
  );
});

/** What is offered at the mark when `from` in the sample is replaced by `to`. */
async function offered(from: string, to: string, can = able): Promise<CompletionItem[]> {
  const { text, offset } = marked(from === '' ? fell + to : fell.replace(from, to));
  const opened = workspaceOf(samples);
  opened.open(uri, text);
  return (await completion(opened, uri, toPosition(opened.positionsOf(uri), offset), can, breathe))!.items;
}
const labels = (items: readonly CompletionItem[]): string[] => items.map(({ label }) => label);

describe('what is due comes, and nothing else', () => {
  it.each([
    ['duty: circuit', 'duty: |', ['street', 'strip', 'circuit'], ['redline', 'rpm', 'grey-iron']],
    [
      'duty: circuit',
      '|',
      ['duty', 'fuel', 'head', 'machining', 'measured', 'expect', 'derive'],
      ['redline', 'compression', 'bore'],
    ],
    ['bore: 4.125 in', 'bore: 4.125 |', ['in', 'mm'], ['lb', 'deg', 'bore']],
    ['rod: HB-6125', 'rod: |', ['HB-6125'], ['VS-1450', 'none', 'FT-1110F']],
    ['spring[outer]', 'spring[|]', ['outer', 'inner'], ['front', 'compression']],
    ['with scale', 'with |', ['scale', 'burette'], ['HB-6125']],
    [
      'head.chamber: [1: 66.1, 3: 65.8, others: 66.0] cc with burette',
      'head.chamber: [1: 66.1, 3: 65.8, others: 66.0] cc |',
      ['with', 'by', 'on', 'at', 'because'],
      [],
    ],
    ['"parts.thou"', '"|"', ['parts.thou', 'parts/tarn.thou'], ['fell-427.thou', 'fell-bores.csv']],
    ['from "fell-bores.csv"', 'from "|"', ['tarn-bores.csv'], ['parts.thou']],
    ['expect quench within 0.036..0.044 in', 'accept |', ['top-ring-gap', 'piston-wall'], ['compression']],
    [
      '',
      '\n|',
      ['build', 'part', 'variant', 'use "brackwater.thou"'],
      ['use prelude 1', 'measured', 'use "parts.thou"'],
    ],
    ['', '\npart x: |\n', ['Piston', 'Rod'], ['Length']],
    ['', '\ncomponent X {\n  a: |\n}\n', ['Length', 'Flag', 'Rod', 'cylinder'], ['X', 'bore']],
    ['', '\ncomponent X {\n  a: Length per |\n}\n', ['cylinder', 'bank'], ['Length']],
    ['', '\nderive x: Length = |\n', ['altitude', 'head.milled', 'max'], ['redline', 'block.bore', 'x']],
  ])('%s → %s', async (from, to, there, absent) => {
    const found = labels(await offered(from, to));
    for (const word of there) expect(found).toContain(word);
    for (const word of absent) expect(found).not.toContain(word);
  });

  it('never offers the value that is being given, or what is made from it', async () => {
    const found = labels(await offered('stroke: 4.000 in,', 'stroke: |,'));
    expect(found.length).toBeGreaterThan(0);
    for (const name of ['stroke', 'crank.stroke', 'piston-travel', 'compression']) expect(found).not.toContain(name);
  });

  it('puts the units that the figure is shown in first', async () => {
    expect(labels(await offered('bore: 4.125 in', 'bore: 4.125 |')).slice(0, 2)).toEqual(['in', 'mm']);
  });

  it('writes snippets for editors that know them, plain text for others', async () => {
    const block = async (can: typeof able): Promise<string | undefined> =>
      (await offered('duty: circuit', '|', can)).find(({ label }) => label === 'measured')?.textEdit?.newText;
    expect(await block(able)).toContain('${1:Readings}');
    expect(await block(plainEditor)).toBe('measured "Readings" on 2026-03-21 {\n\n}');
  });

  it('leaves what stands behind the place where the editor inserts, and takes it where it replaces', async () => {
    const [item] = (await offered('duty: circuit', 'duty: cir|cuit')).filter(({ label }) => label === 'street');
    const { insert, replace } = item!.textEdit as InsertReplaceEdit;
    expect(insert.end.character - insert.start.character).toBe(3);
    expect(replace.end.character - replace.start.character).toBe(7);
  });

  it('tells more of an item only when asked', async () => {
    const [bore] = (await offered('bore: 4.125 in', '|')).filter(({ label }) => label === 'bore');
    expect(bore!.documentation).toBeUndefined();
    expect(JSON.stringify(resolveCompletion(workspaceOf(samples), bore!, able).documentation)).toContain(
      'One figure a cylinder',
    );
    const other = { label: 'x', data: 3 };
    expect(resolveCompletion(workspaceOf(samples), other, able)).toBe(other);
  });

  it.each([
    ['component X {\n  a: Length |\n}', ['limits', 'per', 'as']],
    ['component X {\n  a: Length\n  rule r: warning {\n    expect a |\n    because "x"\n  }\n}', ['within']],
    [
      'component X {\n  a: Length\n  rule r: warning {\n    expect a <= 1 in\n    adjust a |\n  }\n}',
      ['then', 'because'],
    ],
    ['derive d: Length = max(block.bore |)', ['over']],
    ['build b {\n  block.bore: [street: 4 in, others: 4.1 in] |\n}', ['by']],
    ['build b {\n  expect compression within 9..10 |\n}', ['because']],
  ])('words that go on: %s', async (text, words) => {
    const found = labels(await offered('', `\n${text}\n`));
    for (const word of words) expect(found).toContain(word);
  });

  it('names of parts in quotes, and tables on the disk that no file reads yet', async () => {
    expect(labels(await offered('rod: HB-6125', 'rod: "|"'))).toContain('HB-6125');
    const [part] = (await offered('rod: HB-6125', 'rod: "HB 6|1"', plainEditor)).filter(
      ({ label }) => label === 'HB-6125',
    );
    expect(rangeOf(part!).end.character - rangeOf(part!).start.character).toBe('HB 61'.length);
    const files = new Map([...samples, ['lone.csv', 'cylinder,bore [in]\n1,4.1']]);
    const opened = workspaceOf(files);
    const { text, offset } = marked(fell.replace('from "fell-bores.csv"', 'from "|"'));
    opened.open(uri, text);
    const list = await completion(opened, uri, toPosition(opened.positionsOf(uri), offset), able, breathe);
    expect(labels(list!.items)).toContain('lone.csv');
  });

  it('what does not fit is reached where nothing that fits begins so, and says so', async () => {
    const found = await offered('', '\nderive x: Length = redl|\n');
    const redline = found.find(({ label }) => label === 'redline');
    expect(redline!.detail).toContain('does not fit here');
    expect(labels(await offered('', '\nderive x: Length = |\n'))).not.toContain('redline');
  });

  it('accepts inside limits that hold the figure, not inside made-up ones', async () => {
    const found = await offered('expect quench within 0.036..0.044 in', 'accept |', plainEditor);
    for (const { label, textEdit } of found.filter(({ kind }) => kind === 23))
      expect(textEdit!.newText, label).not.toMatch(/within 0\.\.1\b/);
    expect(found.find(({ label }) => label === 'main-oil-clearance')!.textEdit!.newText).toMatch(
      /^main-oil-clearance\[3\] within 0\.00\d+\.\.0\.00\d+ in because "why"$/,
    );
  });

  it('can be given up between two pieces of work', async () => {
    const opened = workspaceOf(samples);
    const at = toPosition(opened.positionsOf(uri), fell.indexOf('compression within'));
    let left = 2;
    const giveUp = (): Promise<void> => (left-- > 0 ? Promise.resolve() : Promise.reject(new Error('given up')));
    await expect(completion(opened, uri, at, able, giveUp)).rejects.toThrow('given up');
  });

  it('offers nothing in a comment or right behind a bracket', async () => {
    expect(await offered('// a part, with', '// a pa|rt, with')).toEqual([]);
    expect(await offered('others: 66.0] cc', 'others: 66.0]| cc')).toEqual([]);
  });
});

it('answers at places of every sample, whole and cut off', async () => {
  for (const [path, text] of hostileTexts()) {
    const file = `file:///${path}`;
    const opened = workspaceOf(samples);
    opened.open(file, text);
    for (let offset = 5; offset < text.length; offset += 397)
      expect(
        await completion(opened, file, toPosition(opened.positionsOf(file), offset), able, breathe),
      ).not.toBeNull();
  }
}, 120_000);
