/** Two states of a file: exactly what was changed, what follows of it, and nothing that a repository holds is run or written. */
import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { BuildDiff, DiffResult } from '../../../shared/src/result/diff.ts';
import { base, pairs, type Told } from './diff-pairs.ts';
import { thou } from './run.ts';

const top = fileURLToPath(new URL('../../../', import.meta.url));
const schema = JSON.parse(readFileSync(join(top, 'shared/schema/thou-diff-1.schema.json'), 'utf8')) as object;
const isDiff = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'thou-diff-'));
});

afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

function put(name: string, text: string): string {
  const path = join(folder, name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
  return path;
}

async function diffOf(old: string, now: string): Promise<DiffResult> {
  const ran = await thou('diff', old, now, '--root', folder, '--format', 'json');
  expect(ran).toMatchObject({ code: 0, err: '' });
  const result = JSON.parse(ran.out) as DiffResult;
  expect(isDiff(result), JSON.stringify(isDiff.errors)).toBe(true);
  return result;
}

/** What is told of a build, in short; figures and checks of our own only. */
function told({ inputs, figures, checks, in: where }: BuildDiff): Told {
  const rows = {
    inputs: inputs.map(
      ({ label, old, new: now, view }) => `${label}: ${old} → ${now}${view === 'measured' ? '' : ` ${view}`}`,
    ),
    follows: figures
      .filter(({ path }) => path.startsWith('own-'))
      .map(({ label, old, new: now }) => `${label}: ${old} → ${now}`),
    checks: checks
      .filter(({ id }) => /^(own-|expect )/.test(id))
      .map(({ id, old, new: now, worse }) => `${id}: ${old} → ${now}${worse ? ', worse' : ''}`),
  };
  const some = Object.fromEntries(Object.entries(rows).filter(([, lines]) => lines.length > 0));
  return { ...(where === 'both' ? {} : { in: where }), ...some };
}

describe('prepared pairs', () => {
  test.each(pairs)('%s', async (_, from, to, builds) => {
    expect(base).toContain(from);
    const [old, now] = [put('old.thou', base), put('new.thou', base.replace(from, to))];
    const result = await diffOf(old, now);
    expect(Object.fromEntries(result.builds.map((build) => [build.name, told(build)]))).toEqual(builds);
    // the way back changes the same figures the other way round
    const back = await diffOf(now, old);
    const turned = back.builds.flatMap(({ inputs }) => inputs.map((one) => [one.label, one.new, one.old]));
    const there = result.builds.flatMap(({ inputs }) => inputs.map((one) => [one.label, one.old, one.new]));
    expect(new Set(turned.map(String))).toEqual(new Set(there.map(String)));
  });
});

test('a figure that moved by less than is known of it is told apart', async () => {
  const unsure = base.replace('own-cover: 0.095 in', 'own-cover: 0.095 ± 0.010 in');
  const result = await diffOf(put('old.thou', unsure), put('new.thou', unsure.replace('0.191 in }', '0.193 in }')));
  const moved = result.builds[0]!.figures.filter(({ path }) => path.startsWith('own-'));
  expect(moved.map(({ path, beyond }) => [path, beyond])).toEqual([
    ['own-sum', false],
    ['own-double', false],
  ]);
  // ± 0.010 spread evenly: 0.010/√3 is one standard deviation, common practice for a tolerance (GUM 4.3.7)
  expect(moved[0]!.uncertainty).toBeCloseTo((2 * 0.01) / Math.sqrt(3), 9);
});

test('for people and for a pull request: nothing out of a file becomes a link, a tag or a cell', async () => {
  const odd = base.replaceAll('it sticks out', '<img src=x> [a](http://b) | c');
  const [old, now] = [put('old.thou', base), put('new.thou', odd.replace('0.300 in', '0.280 in'))];
  const text = await thou('diff', old, now, '--root', folder);
  expect(text.out).toContain('What does not hold any more');
  const { out } = await thou('diff', old, now, '--root', folder, '--format', 'markdown');
  expect(out).toContain('\\<img src=x\\> \\[a\\](http://b) \\| c');
  for (const line of out.split('\n').filter((one) => one.startsWith('|'))) {
    expect(line.replaceAll('\\|', '').split('|').length).toBe(6);
  }
});

/** Build, where it is, how many given figures changed, how many checks got worse. */
function row({ name, file, oldFile, in: where, inputs }: BuildDiff): string {
  const moved = oldFile === null ? '' : `, which was ${oldFile}`;
  return `${name} in ${file}${moved}: ${where === 'both' ? inputs.length : where}`;
}

const owl = (name: string, wall = '0.200 in'): string => `use prelude 1
use "shelf.thou"
build ${name} { layout: single, block: B-1, block.own-wall: ${wall} }
`;
const shelf = (deck: string): string => `use prelude 1
extend Block { own-wall: Length, own-deck: Length }
rule own-rule: warning { expect block.own-wall within <= 0.300 in }
part B-1: Block { own-deck: ${deck} }
`;

describe('two folders', () => {
  const both = (name: string, old: string | null, now: string | null): void => {
    if (old !== null) put(`old/${name}`, old);
    if (now !== null) put(`new/${name}`, now);
  };

  beforeEach(() => {
    both('shelf.thou', shelf('9 in'), shelf('9 in'));
    both('a.thou', owl('a'), owl('a'));
    both('b.thou', owl('b'), owl('b', '0.210 in'));
  });

  const inFolders = (): Promise<DiffResult> => diffOf(join(folder, 'old'), join(folder, 'new'));

  test('what changed, is new, gone or moved is told; the rest is counted', async () => {
    both('c.thou', owl('c'), null);
    both('d.thou', null, owl('d', '0.400 in'));
    both('e.thou', owl('e'), null);
    both('sub/e.thou', null, owl('e').replace('"shelf', '"../shelf'));
    both('f.thou', owl('f'), null);
    both('other.thou', null, owl('f', '0.220 in'));
    const result = await inFolders();
    expect(result.builds.map(row)).toEqual([
      'b in b.thou: 1',
      'd in d.thou: new',
      'f in other.thou, which was f.thou: 1',
      'c in c.thou: old',
    ]);
    expect(result.same).toBe(2);
    const [trouble] = result.builds[1]!.checks.filter(({ id }) => id === 'own-rule');
    expect(trouble).toMatchObject({ old: null, new: 'out-of-limits', worse: true });
    const { out } = await thou('diff', join(folder, 'old'), join(folder, 'new'), '--root', folder);
    expect(out).toContain('Of 6 builds 2 changed, 1 is new, 1 is gone and 2 are the same.');
    const markdown = await thou(
      'diff',
      join(folder, 'old'),
      join(folder, 'new'),
      '--root',
      folder,
      '--format',
      'markdown',
    );
    expect(markdown.out).toContain('## f in other.thou, which was f.thou');
  });

  test('a change in what builds share is told of each', async () => {
    put('new/shelf.thou', shelf('8.9 in'));
    expect((await inFolders()).builds.map(row)).toEqual(['a in a.thou: 1', 'b in b.thou: 2']);
    put('new/shelf.thou', `${shelf('9 in')}// looked at again\n`);
    expect(await inFolders()).toMatchObject({ builds: [{ name: 'b' }], same: 1 });
  });

  test('so is a table that a build reads', async () => {
    const text = `use prelude 1\nbuild g {\n  layout: inline-4\n  block.bore: from "g.csv"\n}\n`;
    both('g.thou', text, text);
    const cells = 'cylinder,bore [in]\n1,4.1\n2,4.2\n3,4.3\n4,4.4\n';
    both('g.csv', cells, cells.replace('4.2', '4.25'));
    expect((await inFolders()).builds.map(row)).toEqual(['b in b.thou: 1', 'g in g.thou: 1']);
  });

  test('a mistake that came or went is told with its place', async () => {
    both('h.thou', owl('h').replace('layout', 'layuot'), owl('h').replace('0.200 in', '0.200'));
    const { mistakes } = await inFolders();
    expect(mistakes.map(({ file, line, in: where }) => [file.split('/').at(-1), line, where])).toEqual([
      ['h.thou', 3, 'new'],
      ['h.thou', 3, 'old'],
    ]);
    const { out } = await thou('diff', join(folder, 'old'), join(folder, 'new'), '--root', folder);
    expect(out).toMatch(/Mistakes in the text\n.*h\.thou:3 {2}new {5}.*\n.*h\.thou:3 {2}mended {2}.*layuot/);
  });

  test('one build alone; what is not there, and a folder beside a file, are refused', async () => {
    const [old, now] = [join(folder, 'old'), join(folder, 'new')];
    const one = await thou('diff', old, now, '--root', folder, '--build', 'a', '--format', 'json');
    expect(JSON.parse(one.out)).toMatchObject({ builds: [], same: 1 });
    for (const [words, says] of [
      [[old, now, '--build', 'z'], 'There is no build "z"'],
      [[old, join(now, 'a.thou')], 'is a folder and'],
      [[old, join(folder, 'nowhere')], 'lies in no repository'],
    ] as const) {
      const { code, err } = await thou('diff', ...words, '--root', folder);
      expect({ code, err }).toEqual({ code: 2, err: expect.stringContaining(says) });
    }
  });

  test('more files than one thread is given are told in their order', async () => {
    const names = Array.from({ length: 60 }, (_, at) => `job-${String(at + 10)}`);
    for (const name of names) both(`${name}.thou`, owl(name), owl(name, '0.190 in'));
    const { builds, same } = await inFolders();
    expect(builds.map(({ name }) => name)).toEqual(['b', ...names]);
    expect(same).toBe(1);
  });
});

test('what is worded and follows is told too: it was this, it is that', async () => {
  const worded = `use prelude 1
extend Block { own-size: Length, own-fit: small | large = if own-size > 4 in then large else small }
build jig {
  layout: single
  block.own-size: 3.9 in
  maker: "A. B."
}
`;
  const result = await diffOf(
    put('a.thou', worded),
    put('b.thou', worded.replace('3.9', '4.1').replace('A. B.', 'C.')),
  );
  const [{ inputs, figures }] = result.builds as [BuildDiff];
  expect(inputs.find(({ path }) => path === 'maker')).toMatchObject({ old: 'A. B.', new: 'C.', place: { line: 6 } });
  expect(figures.find(({ path }) => path === 'block.own-fit')).toMatchObject({
    old: 'small',
    new: 'large',
    beyond: true,
  });
});

describe('revisions of a repository', () => {
  const git = (...words: string[]): string =>
    execFileSync('git', ['-c', 'user.name=A. H.', '-c', 'user.email=a@example.org', ...words], {
      cwd: folder,
      encoding: 'utf8',
    });
  const read = (cells: string): string =>
    `use prelude 1\nuse "shelf.thou"\nbuild jig {\n  layout: inline-4\n  block: B-1\n  block.bore: from "${cells}"\n}\n`;
  const inch = (figures: readonly number[]): string =>
    `cylinder,bore [in]\n${figures.map((figure, at) => `${at + 1},${figure}`).join('\n')}\n`;

  beforeEach(() => {
    git('init', '-q');
    put('job.thou', read('bores.csv'));
    put('shelf.thou', 'use prelude 1\npart B-1: Block { deck-height: 9.0 in }\n');
    put('bores.csv', inch([4.1, 4.2, 4.3, 4.4]));
    git('add', '.');
    git('commit', '-q', '-m', 'as it came');
    put('shelf.thou', 'use prelude 1\npart B-1: Block { deck-height: 8.9 in }\n');
    put('bores.csv', inch([4.1, 4.25, 4.3, 4.4]));
  });

  const inputs = async (old: string, now: string): Promise<string[]> => {
    const { out, err } = await thou('diff', old, now, '--format', 'json');
    expect(err).toBe('');
    const { builds } = JSON.parse(out) as DiffResult;
    return builds.flatMap((build) =>
      [...(told(build).inputs ?? [])].map((line) => line.replaceAll(/\u0020?\/ [\d.]+ mm/g, '')),
    );
  };

  test('the file, the parts and the tables that it uses are those of the revision', async () => {
    const path = join(folder, 'job.thou');
    const expected = [expect.stringContaining('block.deck-height'), expect.stringContaining('block.bore[2]: 4.2')];
    for (const old of [`HEAD:${path}`, 'HEAD', git('rev-parse', 'HEAD').trim()])
      expect((await inputs(old, path)).sort()).toEqual(expect.arrayContaining(expected));
    expect(await inputs(`HEAD:${path}`, `HEAD:${path}`)).toEqual([]);
  });

  test('a folder at a revision beside a folder, or another revision of it', async () => {
    for (const [old, now] of [
      ['HEAD', folder],
      [`HEAD:${folder}`, folder],
    ] as const)
      expect((await inputs(old, now)).length).toBe(2);
    git('add', '.');
    git('commit', '-q', '-m', 'as it left');
    mkdirSync(join(folder, 'jobs'));
    git('mv', 'job.thou', 'jobs/job.thou');
    put('jobs/job.thou', read('../bores.csv').replace('"shelf', '"../shelf'));
    git('add', '.');
    git('commit', '-q', '-m', 'moved');
    expect((await inputs(`HEAD~2:${folder}`, `HEAD~1:${folder}`)).length).toBe(2);
    const { out } = await thou('diff', `HEAD~1:${folder}`, `HEAD:${folder}`, '--format', 'json');
    expect(JSON.parse(out)).toMatchObject({ builds: [], same: 1 });
    const gone = await thou('diff', `HEAD~1:${join(folder, 'jobs')}`, join(folder, 'jobs'));
    expect(gone).toMatchObject({ code: 2, err: expect.stringContaining('at revision "HEAD~1"') });
  });

  test('a link in a revision is not followed, a file out of the repository not read', async () => {
    const secret = mkdtempSync(join(tmpdir(), 'thou-secret-'));
    writeFileSync(join(secret, 'secret.csv'), inch([7.7777, 7.7777, 7.7777, 7.7777]));
    symlinkSync(join(secret, 'secret.csv'), join(folder, 'link.csv'));
    for (const way of ['link.csv', '../secret.csv', `../${secret.split('/').at(-1)}/secret.csv`]) {
      put('job.thou', read(way));
      git('add', '.');
      git('commit', '-q', '-m', 'leads out');
      const { out } = await thou(
        'diff',
        `HEAD:${join(folder, 'job.thou')}`,
        `HEAD~1:${join(folder, 'job.thou')}`,
        '--format',
        'json',
      );
      expect(out).not.toContain('7.7777');
    }
    put('job.thou', read('bores.csv'));
    symlinkSync(join(folder, 'job.thou'), join(folder, 'linked.thou'));
    symlinkSync(secret, join(folder, 'linked'));
    writeFileSync(join(secret, 'other.thou'), read('secret.csv').replace('jig', 'strange'));
    git('add', '.');
    git('commit', '-q', '-m', 'links to texts');
    const { out } = await thou('diff', `HEAD:${folder}`, folder, '--format', 'json');
    expect(JSON.parse(out)).toMatchObject({ builds: [], same: 1 });
    rmSync(secret, { recursive: true });
  });

  test('what a stranger put into names and settings runs nothing and writes nothing', async () => {
    const trap = join(folder, 'sprung');
    const script = put('trap.sh', `#!/bin/sh\ntouch "${trap}"\n`);
    execFileSync('chmod', ['+x', script]);
    for (const [key, value] of [
      ['core.fsmonitor', script],
      ['core.pager', script],
      ['diff.external', script],
      ['diff.trap.textconv', script],
      ['filter.trap.smudge', script],
      ['core.sshCommand', script],
    ] as const)
      git('config', key, value);
    put('.gitattributes', '* diff=trap filter=trap\n');
    const path = join(folder, 'job.thou');
    const before = readdirSync(folder).sort();
    const hostile = [
      `--output=${trap}`,
      '-h',
      `HEAD --output=${trap}`,
      '$(touch sprung)',
      '; touch sprung',
      'HEAD^{/x}',
      `HEAD\n--output=${trap}`,
      '..',
      '',
    ];
    for (const revision of hostile) {
      const { code, err } = await thou('diff', `${revision}:${path}`, path);
      expect(code, revision).toBe(2);
      expect(err, revision).not.toMatch(/fatal|Error:|at .*\.ts/);
    }
    expect((await thou('diff', `HEAD:${path}`, path)).code).toBe(0);
    for (const revision of hostile) {
      const { code, err } = await thou('diff', `${revision}:${folder}`, folder);
      expect(code, revision).toBe(2);
      expect(err, revision).not.toMatch(/fatal|Error:|at .*\.ts/);
    }
    expect((await thou('diff', `HEAD:${folder}`, folder)).code).toBe(0);
    expect(readdirSync(folder).sort()).toEqual(before);
    expect(existsSync(trap)).toBe(false);
  });

  test('what is not there is said in plain words', async () => {
    const path = join(folder, 'job.thou');
    expect((await thou('diff', `no-such:${path}`, path)).err).toContain('has no revision "no-such"');
    expect((await thou('diff', `HEAD:${join(folder, 'no.thou')}`, path)).err).toContain('at revision "HEAD"');
    expect((await thou('diff', join(folder, 'no.thou'), path)).err).toContain('There is no file');
    rmSync(join(folder, '.git'), { recursive: true });
    expect((await thou('diff', `HEAD:${path}`, path)).err).toContain('lies in no repository');
  });
});
