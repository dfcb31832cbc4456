/** What is offered at a place: slips, other units, figures for formulas, deviations accepted, sizes on the shelf. */
import { describe, expect, test } from 'vitest';
import { settingsIn } from '@thou/shared/settings';
import { codeActions, offersAt, type Offer } from '../../../language/src/services/code-actions/code-actions.ts';
import { conversionsAt } from '../../../language/src/services/code-actions/convert.ts';
import { applied } from '../../../language/src/services/code-actions/edit.ts';
import type { Asked } from '../../../language/src/services/feature.ts';
import { hostileTexts, marked, samples, workspaceOf } from './open.ts';

/** As much of an action as is looked at. */
interface CodeAction {
  readonly kind: string;
  readonly isPreferred?: boolean;
  readonly edit?: {
    readonly documentChanges?: unknown;
    readonly changes?: Readonly<Record<string, unknown>>;
  };
}

const breathe = (): Promise<void> => Promise.resolve();

async function at(text: string, kind?: string) {
  const place = marked(text);
  const workspace = workspaceOf({ 'job.thou': place.text });
  const { offset } = place;
  const wanted = (one: string): boolean => kind === undefined || one === kind;
  const offers = await offersAt(workspace, 'file:///job.thou', offset, offset, breathe, wanted);
  const take = (title: RegExp): string => {
    const found = offers.find((one) => title.test(one.title));
    if (!found) throw new Error(`no ${title} among: ${offers.map((one) => one.title).join(' | ')}`);
    return applied(place.text, found.edits);
  };
  return { offers, titles: offers.map(({ title }: Offer) => title), take, text: place.text };
}

/** A file of its own, checked: codes of what is wrong, without hints. */
function slipsOf(text: string): string[] {
  const { problems } = workspaceOf({ 'job.thou': text }).result('file:///job.thou');
  return problems.filter(({ severity }) => severity !== 'hint').map(({ code }) => code);
}

const engine = (lines: string): string => `use prelude 1
build a {
  duty: circuit
  redline: 6000 rpm
  layout: single
  block { bore: 100 mm, deck-height: 200 mm }
  crank.stroke: 80 mm
  rod.length: 140 mm
  piston { compression-height: 20 mm }
  head.chamber: 60 cc
${lines}
}
`;

describe('slips of the text', () => {
  test('a misspelt name', async () => {
    const { take } = await at('use prelude 1\nbuild a { redl|ine-: 6000 rpm }\n'.replace('redl|ine-', 'redl|nie'));
    const mended = take(/^Write redline instead of redlnie$/);
    expect(mended).toContain('{ redline: 6000 rpm }');
    expect(slipsOf(mended)).toEqual([]);
  });
  test.each([
    ['a mixed number', 'block.bore: 4-1|/8 in', 'block.bore: 4 1/8 in'],
    ['a comma in a number', 'redline: 7,0|00 rpm', 'redline: 7000 rpm'],
    ['an inch mark', 'block.bore: 4.125|"', 'block.bore: 4.125 in'],
  ])('%s', async (_, wrong, right) => {
    const { offers, text } = await at(`use prelude 1\nbuild a { ${wrong} }\n`, 'quickfix');
    const texts = offers.map(({ edits }) => applied(text, edits));
    expect(texts).toContain(`use prelude 1\nbuild a { ${right} }\n`);
  });
  test('all at once only where no figure is touched', async () => {
    const text = 'use prelude 1\nbuild a { redlnie: 6000 rpm, block.bore: 4-1/8 in }|\n';
    const { take } = await at(text, 'source.fixAll.thou');
    const mended = take(/figure/);
    expect(mended).toContain('redline: 6000 rpm');
    expect(mended).toContain('4-1/8 in');
  });
});

describe('another unit', () => {
  test.each([
    ['block.bore: 4.1|25 in', /in mm$/, 'block.bore: 104.775 mm'],
    ['block.bore: 104.7|75 mm', /in in$/, 'block.bore: 4.125 in'],
    ['main-clearance-limits: 0.0022..0.0|030 in', /in mm$/, 'main-clearance-limits: 0.05588..0.07620 mm'],
    ['ring.mass: [top: 1|2, second: 10, oil: 16] g', /in kg$/, 'ring.mass: [top: 0.012, second: 0.010, oil: 0.016] kg'],
  ])('%s', async (line, unit, want) => {
    const { take } = await at(`use prelude 1\nbuild a { ${line} }\n`, 'refactor.rewrite');
    expect(take(unit)).toBe(`use prelude 1\nbuild a { ${want} }\n`);
  });
  test('not where several units or margins are mixed, nor for scales of degrees', async () => {
    for (const line of ['block.bore: 4.1|25 in +0.001/-0', 'piston.mass: 42|8 ± 1 g', 'x: 2|0 degC']) {
      const { titles } = await at(`use prelude 1\nbuild a { ${line} }\n`, 'refactor.rewrite');
      if (line.startsWith('piston')) expect(titles).toContain('Write it in kg');
      else expect(titles).toEqual([]);
    }
  });
});

describe('a figure in place of its formula', () => {
  test('was less something', async () => {
    const text = `${engine('  head-gasket { bore: 102 mm, thickness: 1.00 mm }')}variant b of a { head-gasket.thickness: wa|s - 0.20 mm }\n`;
    const { take } = await at(text, 'refactor.rewrite');
    expect(take(/^Write 0\.80 mm in place of the formula$/)).toContain('{ head-gasket.thickness: 0.80 mm }');
  });
  test('not for what is written already', async () => {
    const { titles } = await at(engine('  head-gasket { bore: 10|2 mm, thickness: 1.0 mm }'), 'refactor.rewrite');
    expect(titles.filter((title) => title.includes('formula'))).toEqual([]);
  });
});

describe('a deviation that stays', () => {
  test('is accepted inside limits that just hold it', async () => {
    const text = engine('  quench-limits: 0.90..1.10 mm\n  head-gasket { bore: 102 mm, thickness: 1.50 mm }');
    const limited = text.replace('deck-height: 200 mm', 'deck-height: 200|.00 mm');
    const { take } = await at(limited, 'quickfix');
    const accepted = take(/^Accept quench as it is, with a reason$/);
    expect(accepted).toMatch(/accept quench-clearance(\[1\])? within <= 1\.50\d* mm because "reason"/);
    expect(slipsOf(accepted)).toEqual([]);
    const { outcomes } = workspaceOf({ 'job.thou': accepted }).result('file:///job.thou');
    expect(outcomes[0]!.checks.find(({ id }) => id === 'quench-clearance')!.state).toBe('accepted');
  });
  test('names its build where the file has several, once a finding', async () => {
    const text = engine('  quench-limits: 0.90..1.10 mm\n  head-gasket { bore: 102 mm, thickness: 1.50 mm }');
    const limited = text.replace('deck-height: 200 mm', 'deck-height: 200|.00 mm');
    const { titles } = await at(`${limited}variant b of a { head-gasket.thickness: 1.60 mm }\n`, 'quickfix');
    const accepting = titles.filter((title) => title.startsWith('Accept quench'));
    expect(accepting).toContain('Accept quench as it is in a, with a reason');
    expect(new Set(accepting).size).toBe(accepting.length);
  });
});

describe('what may be turned', () => {
  const plates = (rules: string, build: string): string => `use prelude 1
axis hole = 1..3
component Plate {
  width: Length per hole as 0.000 in
  lug: Length as 0.000 in grows
  pad: Length as 0.000 in = 0.100 in
  derive stack: Length as 0.000 in = lug + pad
${rules}
}
extend Engine { plate: Plate }
build a {
${build}
}
`;
  const rule = (demand: string, adjust: string): string =>
    `  rule fit: warning { expect ${demand}, because "it must fit", adjust ${adjust} }`;

  test('a figure that is worked out: by what it is made of and a cut can reach', async () => {
    const { titles, take } = await at(plates(rule('stack within 0.600..0.700 in', 'stack'), '  plate.lug: 0.4|00 in'));
    expect(titles[0]).toMatch(/^Plate lug 0\.500 in: plate stack 0\.600 in; all else holds$/);
    expect(take(/0\.500 in/)).toContain('plate.lug: 0.500 in');
    expect(titles.some((title) => title.includes('pad'))).toBe(false);
  });
  test('what is true or false', async () => {
    const { titles } = await at(plates(rule('lug > pad * 5 or lug < 0.1 in', 'lug'), '  plate.lug: 0.4|00 in'));
    expect(titles[0]).toMatch(/^Plate lug 0\.501 in: .*holds; all else holds$/);
  });
  test('the middle of the limits beside what just holds', async () => {
    const { titles } = await at(plates(rule('lug within 0.500..0.520 in', 'lug'), '  plate.lug: 0.4|00 in'));
    expect(titles[0]).toBe('Plate lug 0.500 in: just holds; all else holds');
    expect(titles[1]).toBe('Plate lug 0.510 in: the middle of its limits; all else holds');
  });
  test('one step that has to suit every place, however narrow', async () => {
    const job = plates(
      rule('abs(width - 1.000 in - pad) <= 0.0015 in', 'pad'),
      '  plate.pad: 0.1|50 in, plate.width: [1.2000, 1.2010, 1.2020] in',
    );
    const { titles } = await at(job);
    expect(titles[0]).toMatch(/^Plate pad 0\.201 in: /);
  });
  test('each place its own size from the shelf', async () => {
    const shelf = '1.000 1.010 1.020 1.030'.split(' ').map((size, one) => `part W${one}: Plate { width: ${size} in }`);
    const job = plates(
      rule('abs(width - 1.000 in * coordinate(hole) / 100 - 1 in) <= 0.002 in', 'width'),
      '  plate.width: [1.0|50, 1.050, 1.050] in',
    );
    const { titles, take } = await at(`${shelf.join('\n')}\n${job}`);
    expect(titles[0]).toMatch(/^Plate width 1\.010\.\.1\.030 in/);
    const after = workspaceOf({ 'job.thou': take(/1\.010\.\.1\.030/) }).result('file:///job.thou').outcomes[0]!;
    expect(after.checks.find(({ id }) => id === 'plate.fit')!.state).toBe('holds-on-paper');
  });
});

describe('sizes that can be bought', () => {
  const job = (shelf: string): string =>
    `${shelf}\n${engine('  quench-limits: 0.90..1.12 mm\n  head-gasket { bore: 102 mm, thickness: 1.30 mm }').replace('200 mm', '20|0 mm')}`;
  test('come first: the nearest part that holds', async () => {
    const text = job(
      'part G-11: Gasket { bore: 102 mm, thickness: 1.05 mm }\npart G-08: Gasket { bore: 102 mm, thickness: 0.80 mm }',
    );
    const { titles } = await at(text, 'quickfix');
    expect(titles[0]).toMatch(/^Head gasket thickness 1\.05 mm \(G-11\): quench 1\.050 mm/);
    expect(titles.some((title) => title.startsWith('Head gasket thickness 1.12 mm:'))).toBe(true);
  });
  test('another part takes the place of the one fitted', async () => {
    const shelf = ['1.30', '1.05'].map((size) => `part "G ${size}": Gasket { bore: 102 mm, thickness: ${size} mm }`);
    const body = engine('  quench-limits: 0.90..1.12 mm\n  head-gasket: "G 1.30"').replace('200 mm', '20|0 mm');
    const { titles, take } = await at(`${shelf.join('\n')}\n${body}`, 'quickfix');
    expect(titles[0]).toMatch(/^Head gasket thickness 1\.05 mm \(G 1\.05\): quench 1\.050 mm.*; .*holds$/);
    const taken = take(/\(G 1\.05\)/);
    expect(taken).toContain('head-gasket: "G 1.05"');
    const { outcomes } = workspaceOf({ 'job.thou': taken }).result('file:///job.thou');
    expect(outcomes[0]!.checks.find(({ id }) => id === 'quench-clearance')!.state).toBe('holds-on-paper');
  });
  test('a family gives its steps', async () => {
    const { titles } = await at(
      job('part G-F: Gasket { bore: 102 mm, thickness: 0.80..2.00 mm step 0.15 mm }'),
      'quickfix',
    );
    expect(titles[0]).toMatch(/^Head gasket thickness 1\.10 mm:/);
  });
});

test('half-typed text: other units at every place, all else at some', { timeout: 240_000 }, async () => {
  for (const [path, text] of hostileTexts()) {
    const uri = `file:///${path}`;
    const workspace = workspaceOf(new Map([...samples, [path, text]]));
    for (let offset = 0; offset <= text.length; offset += 1) {
      const source = workspace.source(uri)!;
      conversionsAt(source, offset, offset);
      if (offset % 23 === 0)
        await offersAt(workspace, uri, offset, offset, breathe, (kind) => kind !== 'quickfix' || offset % 161 === 0);
    }
  }
});

describe('in the words of the protocol', () => {
  const text = engine('  quench-limits: 0.90..1.10 mm\n  head-gasket { bore: 102 mm, thickness: 1.50 mm }');
  const uri = 'file:///job.thou';
  const [list, resolve] = codeActions.requests;
  const askedWith = (client: Asked['client']): Asked =>
    ({
      workspace: workspaceOf({ 'job.thou': text }),
      client,
      breathe,
      versionOf: () => 7,
      settings: () => Promise.resolve(settingsIn({})),
    }) as unknown as Asked;
  const position = { line: 5, character: 38 };
  const params = { textDocument: { uri }, range: { start: position, end: position }, context: { diagnostics: [] } };

  test('the edit comes when one is taken, where the editor can wait for it', async () => {
    const asked = askedWith({
      textDocument: { codeAction: { resolveSupport: { properties: ['edit'] } } },
      workspace: { workspaceEdit: { documentChanges: true } },
    });
    const actions = (await list!.handle(params, asked)) as CodeAction[];
    const fix = actions.find(({ isPreferred }) => isPreferred)!;
    expect(fix.edit).toBeUndefined();
    const done = (await resolve!.handle(fix, asked)) as CodeAction;
    expect(done.edit!.documentChanges).toEqual([
      {
        textDocument: { uri, version: 7 },
        edits: [{ range: { start: { line: 11, character: 41 }, end: { line: 11, character: 45 } }, newText: '1.10' }],
      },
    ]);
    expect((fix as { data?: { follows: string[] } }).data!.follows.join()).toContain('compression');
  });
  test('all that comes of it stands beside the change, where the editor shows a preview', async () => {
    const asked = askedWith({
      textDocument: { codeAction: { resolveSupport: { properties: ['edit'] } } },
      workspace: { workspaceEdit: { documentChanges: true, changeAnnotationSupport: {} } },
    });
    const actions = (await list!.handle(params, asked)) as CodeAction[];
    const done = (await resolve!.handle(
      actions.find(({ isPreferred }) => isPreferred)!,
      asked,
    )) as {
      edit: { changeAnnotations: Record<string, { description: string; needsConfirmation: boolean }> };
    };
    expect(done.edit.changeAnnotations['fix']).toMatchObject({ needsConfirmation: false });
    expect(done.edit.changeAnnotations['fix']!.description).toContain('clearance volume');
  });
  test('with the edit at once for one that cannot', async () => {
    const actions = (await list!.handle(params, askedWith({}))) as CodeAction[];
    expect(actions.every(({ edit }) => edit?.changes?.[uri] !== undefined)).toBe(true);
    expect(actions.some(({ kind }) => kind === 'source.fixAll.thou')).toBe(false);
  });
  test('only what was asked for', async () => {
    const context = { diagnostics: [], only: ['refactor'] };
    const actions = (await list!.handle({ ...params, context }, askedWith({}))) as CodeAction[];
    expect(actions.length).toBeGreaterThan(0);
    expect(actions.every(({ kind }) => kind === 'refactor.rewrite')).toBe(true);
  });
  test('nothing is offered of a text that went on meanwhile', async () => {
    const asked = askedWith({});
    const typing = (): Promise<void> => {
      asked.workspace.change(uri, `// one line more\n${asked.workspace.read(uri)}`);
      return Promise.resolve();
    };
    expect(await list!.handle(params, { ...asked, breathe: typing })).toEqual([]);
  });
  test('what is given up meanwhile stops', async () => {
    const asked = { ...askedWith({}), breathe: () => Promise.reject(new Error('given up')) };
    await expect(list!.handle(params, asked)).rejects.toThrow('given up');
  });
});

describe('slips that need knowledge', () => {
  test.each([
    ['pounds for pounds of force', 'build a { intake.spring[outer] { rate: 350 lb|/in } }', '350 lbf/in'],
    ['a figure without its unit', 'build a { block.bore: 4.12|5 }', '4.125 in'],
    ['a dash for a minus', 'derive left: RotationalSpeed = over-speed-red|line', 'over-speed - redline'],
  ])('%s', async (_, line, want) => {
    const { offers, text } = await at(`use prelude 1\n${line}\n`, 'quickfix');
    const texts = offers.map(({ edits }) => applied(text, edits));
    expect(texts.join('\n')).toContain(want);
  });
});
