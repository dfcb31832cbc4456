// The commands as they are called: exit codes, and what a bad call says.
import { execFile, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { thou } from './run.ts';

const top = fileURLToPath(new URL('../../../', import.meta.url));
const sample = (name: string): string => join(top, 'samples', name);
const samples = readdirSync(join(top, 'samples')).filter((name) => name.endsWith('.thou'));
const schema = (name: string): object => JSON.parse(readFileSync(join(top, 'shared/schema', name), 'utf8')) as object;
const ajv = new Ajv2020({ strict: true, allowUnionTypes: true });
const isSheet = ajv.compile(schema('thou-sheet-1.schema.json'));
const isReport = ajv.compile(schema('thou-check-1.schema.json'));

let folder: string;
const file = (name: string, text: string | Uint8Array): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
beforeAll(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'thou-commands-')));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A single with a bore that its order leaves too large. */
const single = (expect: string): string => `use prelude 1
build one {
  layout: single
  block.bore: 80.0 mm
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  ${expect}
}
`;
const holds = 'expect displacement <= 360 cc';
const fails = 'expect displacement <= 350 cc';

describe('exit codes', () => {
  it('0 where all holds', async () => {
    const ran = await thou('check', file('holds.thou', single(holds)));
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toContain('nothing wrong');
  });

  it('1 where something is out of limits, with place, weight and code', async () => {
    const path = file('fails.thou', single(fails));
    const ran = await thou('check', path, '--excerpt');
    expect(ran.code).toBe(1);
    // π/4 · 8² · 7 cm³ = 351.9 cc
    expect(ran.out).toMatch(
      /fails\.thou:\d+:\d+ {2}error {2}Displacement is 351\.9 cc: 1\.9 cc over the greatest, 350\.0 cc\. {2}\[expect\]/,
    );
    expect(ran.out).toMatch(/\n {4}.*\n {4} *\^+\n/);
    expect((await thou('sheet', path)).code).toBe(1);
  });

  it('1 for a mistake in the text', async () => {
    const ran = await thou('check', file('slip.thou', single('block.bor: 80.0 mm')));
    expect(ran.code).toBe(1);
    expect(ran.out).toMatch(/slip\.thou:7:\d+ {2}error/);
  });

  it('0 for warnings, 1 with --strict', async () => {
    const path = file(
      'warns.thou',
      `use prelude 1\nbuild one {\n layout: single\n redline: 20000 rpm\n crank.stroke: 80 mm\n piston.metal: cast\n rule slow: warning { expect redline <= 9000 rpm, because "it is old" }\n}\n`,
    );
    expect((await thou('check', path)).code).toBe(0);
    expect((await thou('check', path, '--strict')).code).toBe(1);
  });

  it('0 for what cannot be told yet, 1 with --strict, which then says what is missing', async () => {
    const path = file(
      'untold.thou',
      single('expect crank.stroke within 60..90 mm\n').replace(/ crank\.stroke: [^\n]*\n/, '\n'),
    );
    const easy = await thou('check', path);
    expect(easy.code).toBe(0);
    expect(easy.out).not.toContain('Crank stroke is not given');
    const strict = await thou('check', path, '--strict');
    expect(strict.code).toBe(1);
    expect(strict.out).toMatch(
      /hint {2}Crank stroke is not given or measured yet: quench and crank stroke cannot be told\. {2}\[missing\]/,
    );
    expect(strict.out).toMatch(/One file: \d checks that cannot be told; \d+ hints more with --hints\./);
    expect((await thou('check', path, '--format', 'junit')).out).toContain('<skipped');
    expect((await thou('check', path, '--format', 'junit', '--strict')).out).toContain('<failure');
  });

  it.each([
    [['check', 'nowhere.thou'], 'There is no file "nowhere.thou".'],
    [['check'], 'Name a file or a folder to check.'],
    [['chek', 'x'], 'There is no command "chek"; did you mean "check"?'],
    [['sheet'], 'Name one file to make the sheet of.'],
    [['sheet', 'a', 'b'], 'Name one file to make the sheet of.'],
    [['explain', 'x.thou'], 'Name a file and one figure in it.'],
    [
      ['sheet', 'x.thou', '--format', 'xml'],
      'The option --format takes text or html or markdown or csv or svg or json, not "xml".',
    ],
    [
      ['sheet', 'x.thou', '--format', 'html', '--sheet', 'all'],
      'There is no sheet "all"; there are whole, machine-shop, bench, assembly and orders.',
    ],
    [['sheet', 'x.thou', '--sheet', 'bench'], 'The option --sheet goes with --format html, markdown or csv.'],
    [['check', '--colour'], '"thou check" has no option --colour. "thou help check" tells them.'],
    [['weigh'], 'There is no command "weigh". "thou help" lists them.'],
    [['manual', 'x.thou', 'y.thou'], 'Name one file at most.'],
    [['manual', '--format', 'html'], 'Say with -o which folder the pages are to be written to.'],
    [['fmt'], 'Name a file or a folder to format.'],
  ])('2 for %j, in one line', async (typed, message) => {
    const ran = await thou(...typed);
    expect(ran.code).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.err).toContain(message);
    expect(ran.err.trimEnd()).not.toContain('\n');
  });

  it('2 without a command, with the help', async () => {
    const ran = await thou();
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('thou check PATH…');
  });

  it('2 for a folder without files, a build or a figure that is not there', async () => {
    mkdirSync(join(folder, 'empty'));
    expect(await thou('check', join(folder, 'empty'))).toMatchObject({ code: 2 });
    const path = file('one.thou', single(holds));
    expect((await thou('sheet', path, '--build', 'two')).err).toContain('has no build "two"; it has one.');
    expect((await thou('explain', path, 'displacment')).err).toContain('Did you mean displacement?');
    expect((await thou('explain', path, 'crank')).err).toMatch(
      /"crank" is a part, not a figure; it has .*crank\.stroke.* and others\./,
    );
    expect((await thou('explain', path, 'quench-clearance')).err).toContain(
      '"quench-clearance" is a check, not a figure; it looks at quench.',
    );
    expect((await thou('explain', path, 'displacement', '--deep', 'x')).err).toContain('takes a whole number from 1');
  });
});

describe('help', () => {
  it('lists each command and its options from one table', async () => {
    const ran = await thou('help');
    for (const name of ['check', 'sheet', 'explain', 'fmt', 'manual']) {
      expect(ran.out).toContain(`thou ${name}`);
      expect(await thou('help', name)).toEqual(await thou(name, '--help'));
    }
    expect((await thou('help', 'check')).out).toContain('--strict');
    expect((await thou('--version')).out).toMatch(/^thou \d+\.\d+\.\d+, trade library edition \d+\n$/);
  });
});

describe('samples', { timeout: 60_000 }, () => {
  it.each(samples)('%s: the JSON obeys its schema, the sheet ends with the caution', async (name) => {
    const json = await thou('sheet', sample(name), '--format', 'json');
    expect(json.out).not.toMatch(/NaN|Infinity/);
    const sheet = JSON.parse(json.out) as { builds: unknown[] };
    expect(isSheet(sheet), JSON.stringify(isSheet.errors?.slice(0, 3))).toBe(true);
    const text = await thou('sheet', sample(name));
    expect(json.code).toBe(text.code);
    if (sheet.builds.length > 0) {
      expect(text.out.trimEnd().replace(/\s+/g, ' ')).toMatch(
        /A sheet that holds is no proof that an engine is safe: the part maker's instructions, local rules and a licensed machine shop or engineer come first\.$/,
      );
    }
    const report = await thou('check', sample(name), '--format', 'json');
    expect(isReport(JSON.parse(report.out)), JSON.stringify(isReport.errors)).toBe(true);
  });

  it('fell-427: compression as in the design, 10.49 as specified and 10.61 as ordered', async () => {
    const { out } = await thou('sheet', sample('fell-427.thou'), '--format', 'json');
    const { builds } = JSON.parse(out) as {
      builds: { name: string; values: Record<string, { views: Record<string, number[]> }> }[];
    };
    const views = builds.find(({ name }) => name === 'fell-427')!.values['compression']!.views;
    expect(views['specified']![1]).toBeCloseTo(10.49, 2);
    expect(views['ordered']![1]).toBeCloseTo(10.61, 2);
  });

  it('explains compression[3]: formula, figures put in, where they come from', async () => {
    const { out, code } = await thou('explain', sample('fell-427.thou'), 'compression[3]', '--deep', '2');
    expect(code).toBe(0);
    expect(out).toContain('(swept-volume + clearance-volume) / clearance-volume');
    expect(out).toMatch(/= \(876\.\d cc \+ 9\d\.\d cc\) \/ 9\d\.\d cc/);
    expect(out).toMatch(
      /head\.chamber\[3\] +65\.8 cc .*measured, Back from the machine shop, on 2026-03-14, by A\. H\., with burette/,
    );
    expect(out).toContain('Source: definition');
  });

  it('checks a folder, each file once', async () => {
    const { out } = await thou('check', join(top, 'samples'), sample('fell-427.thou'));
    const count = readdirSync(join(top, 'samples'), { recursive: true }).filter((name) =>
      String(name).endsWith('.thou'),
    ).length;
    expect(out).toContain(`${count} files:`);
  });
});

describe('a folder with files that cannot be read', () => {
  const latin = Buffer.from('use prelude 1\n/// Kl\u00e4r\n', 'latin1');
  function mixed(name: string, ...others: readonly (readonly [string, string])[]): string {
    const inside = join(folder, name);
    mkdirSync(inside);
    writeFileSync(join(inside, 'latin.thou'), latin);
    writeFileSync(join(inside, 'large.thou'), `use prelude 1\n${'// as large as that\n'.repeat(120_000)}`);
    for (const [one, text] of others) writeFileSync(join(inside, one), text);
    return inside;
  }

  it('says which and why, looks at all others, and has not looked at the whole', async () => {
    const inside = mixed('mixed', ['good.thou', single(holds)]);
    const ran = await thou('check', inside);
    expect(ran.code).toBe(2);
    expect(ran.out).toContain('One file:');
    expect(ran.err).toMatch(/large\.thou" is larger than 2 MB and is not read\.\n/);
    expect(ran.err).toMatch(/latin\.thou" cannot be read: it is not UTF-8 text; save it as UTF-8\.\n/);
    const laidOut = await thou('fmt', '--check', inside);
    expect(laidOut.code).toBe(2);
    expect(laidOut.err).toContain('latin.thou');
  });

  it('refuses where none can be read, and a file that is named by itself', async () => {
    const inside = mixed('unread');
    for (const path of [inside, join(inside, 'latin.thou')])
      expect(await thou('check', path)).toMatchObject({ code: 2, out: '' });
  });
});

it('a file without a build has no sheet: the code says so', async () => {
  const path = file('only-parts.thou', 'use prelude 1\n');
  expect(await thou('sheet', path)).toMatchObject({ code: 2, err: expect.stringContaining('has no build.') as string });
});

describe('sensitivities', () => {
  it('stand in two tables, the largest first', async () => {
    const ran = await thou('explain', sample('tarn-427.thou'), 'main-clearance[3]', '--sensitivities');
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toMatch(/What makes it unsure\n {2}bore gauge +± 0\.0002 in +\d+ % +uncertainty of the instrument/);
    expect(ran.out).toMatch(
      /What moves it.*\n.*grows by.*\n {2}block\.main-housing\[3\] +2\.6409 in +\+ 0\.0001 in +\+0\.00010 in/,
    );
    const plain = await thou('explain', sample('tarn-427.thou'), 'main-clearance[3]');
    expect(plain.out).not.toContain('What moves it');
  });
});

describe('fmt and manual', () => {
  it('fmt sets blanks, --check only tells, mistakes are left alone', async () => {
    const untidy = file('untidy.thou', 'build one {\nlayout:single\n}\n');
    expect(await thou('fmt', untidy, '--check')).toMatchObject({ code: 1 });
    expect(readFileSync(untidy, 'utf8')).toBe('build one {\nlayout:single\n}\n');
    expect(await thou('fmt', untidy)).toMatchObject({ code: 0 });
    expect(readFileSync(untidy, 'utf8')).toBe('build one {\n  layout: single\n}\n');
    expect(await thou('fmt', untidy, '--check')).toMatchObject({ code: 0, out: '' });
    const broken = file('broken.thou', 'build one {\n layout: : single\n');
    expect((await thou('fmt', broken)).code).toBe(1);
    expect(readFileSync(broken, 'utf8')).toBe('build one {\n layout: : single\n');
  });

  it('manual: every chapter, formulas and sources', async () => {
    const { out, code } = await thou('manual');
    expect(code).toBe(0);
    expect(out).toContain('## Stack-up and compression');
    expect(out).toContain('**compression** (worked out; Ratio per cylinder; shown as 0.00)');
    expect(out).toContain('Formula: `(swept-volume + clearance-volume) / clearance-volume`');
    expect(out).toContain('*Source:* definition, any engine textbook.');
  });
});

describe('hostile files', () => {
  it.each([
    ['a link out', 'use "../x.thou"\n'],
    ['an absolute path', 'use "/etc/passwd"\n'],
    ['an address', 'use "https://example.org/x.thou"\n'],
    ['a name that is a prototype', 'use prelude 1\nbuild __proto__ {\n layout: single\n constructor: 1 in\n}\n'],
    ['NUL bytes', 'build a {\0}\n'],
    ['nothing', ''],
    ['a byte order mark and CRLF', '\uFEFFuse prelude 1\r\nbuild a {\r\n  layout: single\r\n}\r\n'],
    ['merge markers', '<<<<<<< a\nbuild a {\n=======\n}\n>>>>>>> b\n'],
    ['5,000 brackets', `build a { redline: ${'('.repeat(5000)}1${')'.repeat(5000)} rpm }\n`],
    ['an open comment', `/* ${'/*'.repeat(40000)}`],
  ])('%s: an answer and no trail', async (_, text) => {
    const path = file('hostile.thou', text);
    for (const ran of [
      await thou('check', path, '--hints'),
      await thou('sheet', path),
      await thou('sheet', path, '--format', 'json'),
    ]) {
      expect([0, 1, 2]).toContain(ran.code);
      expect(ran.err + ran.out).not.toMatch(/failed inside|\n {4}at |undefined|\[object/);
    }
  });

  it('sends no escape to the terminal', async () => {
    const ran = await thou('check', file('escape.thou', 'use "\u001b[2J.thou"\nbuild "\u001b[31mred" { x: 1 in }\n'));
    expect(ran.code).toBe(1);
    expect(ran.out + ran.err).not.toContain('\u001b');
    const noted = file('noted.thou', `${single(holds).replace('build', '/// \u001b[31mred\nbuild')}`);
    for (const format of ['text', 'html', 'markdown', 'csv'])
      expect((await thou('sheet', noted, '--format', format)).out, format).not.toContain('\u001b');
  });
});

describe('as a program', { timeout: 60_000 }, () => {
  const node = process.execPath;
  const bin = join(top, 'language/bin/thou.js');

  it('ends with the code, also where its reader stops reading', async () => {
    const path = file('program.thou', single(fails));
    const code = await new Promise((done) => execFile(node, [bin, 'check', path], (problem) => done(problem?.code)));
    expect(code).toBe(1);
    const piped = await new Promise<string>((done) =>
      execFile('sh', ['-c', `"${node}" "${bin}" manual | head -n 1`], (_, out, err) => done(out + err)),
    );
    expect(piped).toBe('# The trade library, edition 1\n');
  });

  it('--watch looks again when a file changes, and ends when interrupted', async () => {
    const path = file('watched.thou', single(holds));
    const child = spawn(node, [bin, 'check', '--watch', path]);
    let out = '';
    const until = (text: string): Promise<void> =>
      new Promise((done) => {
        const look = (): void => void (out.includes(text) && done());
        child.stdout.on('data', look);
        look();
      });
    child.stdout.on('data', (data) => (out += String(data)));
    await until('nothing wrong');
    writeFileSync(path, single(fails));
    await until('over the greatest');
    const code = new Promise((done) => child.on('exit', done));
    child.kill('SIGINT');
    expect(await code).toBe(1);
  });
});
