/** Part libraries as packages: packed and installed by plain npm, used by name, with the sheet that their figures are from. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { JobFiles } from '../../../language/src/command-line/files.ts';
import { top } from '../../house/walls.ts';
import { thou } from './run.ts';

const home = realpathSync(mkdtempSync(join(tmpdir(), 'thou-packages-')));
afterAll(() => rmSync(home, { recursive: true, force: true }));

const run = (folder: string, command: string, ...words: string[]): string =>
  execFileSync(command, words, { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

describe('the package of the samples, packed and installed offline', () => {
  const job = join(home, 'job');
  const build = join(job, 'wren.thou');

  beforeAll(() => {
    mkdirSync(job);
    const [packed] = JSON.parse(
      run(job, 'npm', 'pack', '--offline', '--json', join(top, 'samples/packages/holt-fenner-rods')),
    ) as [{ readonly filename: string }];
    writeFileSync(join(job, 'package.json'), '{ "private": true }');
    run(job, 'npm', 'install', '--offline', '--no-audit', '--no-fund', `./${packed.filename}`);
    writeFileSync(
      build,
      'use prelude 1\nuse "package:holt-fenner-rods"\n\nbuild wren {\n  layout: inline-4\n  rod: HF-6200\n}\n',
    );
    run(job, 'git', 'init', '-q');
    run(job, 'git', 'add', 'wren.thou');
    run(job, 'git', '-c', 'user.name=A', '-c', 'user.email=a@example.org', 'commit', '-qm', 'Wren');
  }, 120_000);

  it('is found by its name, and by one of its files', async () => {
    expect((await thou('check', build)).code).toBe(0);
    const bolts = join(job, 'bolts.thou');
    writeFileSync(
      bolts,
      'use prelude 1\nuse "package:holt-fenner-rods/bolts.thou"\nbuild owl {\n  layout: single\n  rod.bolt: HF-B716\n}\n',
    );
    expect((await thou('check', bolts)).out).toContain('nothing wrong');
  });

  it("tells the maker's sheet and its date beside a figure, and on the sheet beside the part", async () => {
    const { out } = await thou('explain', build, 'rod.length');
    expect(out).toContain('part, HF-6200, Holt & Fenner data sheet R-14 of 2026-01-19');
    const inherited = await thou('explain', build, 'rod.small-end');
    expect(inherited.out).toContain('Holt & Fenner data sheet R-12 of 2025-11-03');
    expect((await thou('sheet', build)).out.replace(/\s+/g, ' ')).toContain(
      'HF-6200 (Holt & Fenner data sheet R-14 of 2026-01-19)',
    );
  });

  it('is not checked with the folder, and is read as installed now for an earlier revision', async () => {
    expect((await thou('check', job)).out).toMatch(/^(One file|2 files): nothing wrong/m);
    writeFileSync(
      build,
      'use prelude 1\nuse "package:holt-fenner-rods"\n\nbuild wren {\n  layout: inline-4\n  rod: HF-6125\n}\n',
    );
    const { out, code } = await thou('diff', `HEAD:${build}`, build);
    expect(code).toBe(0);
    expect(out).toMatch(/rod\.length +6\.200 in/);
  });
});

describe('which file stands for a package', () => {
  const root = join(home, 'entries');
  const from = pathToFileURL(join(root, 'start.thou')).href;
  const package_ = (name: string, manifest: string | null, ...files: string[]): void => {
    const folder = join(root, 'thou_modules', name);
    mkdirSync(folder, { recursive: true });
    if (manifest !== null) writeFileSync(join(folder, 'package.json'), manifest);
    for (const file of files) writeFileSync(join(folder, file), '// parts\n');
  };
  beforeAll(() => {
    package_('named', '{ "thou": "parts.thou" }', 'parts.thou', 'index.thou');
    package_('plain', null, 'index.thou');
    package_('broken', '{ "thou": ', 'index.thou');
    package_('hostile', '{ "thou": "../../../outside.thou" }', 'index.thou');
    package_('number', '{ "thou": 7 }', 'index.thou');
    package_('large', `{ "thou": "parts.thou", "x": "${'x'.repeat(70_000)}" }`, 'parts.thou', 'index.thou');
    package_('linked', null, 'index.thou');
    writeFileSync(join(home, 'package.json'), '{ "thou": "parts.thou" }');
    symlinkSync(join(home, 'package.json'), join(root, 'thou_modules', 'linked', 'package.json'));
    writeFileSync(join(home, 'outside.thou'), '// secret\n');
  });
  const entry = (name: string): unknown => new JobFiles(root).resolve(from, `package:${name}`);
  const at = (...steps: string[]): unknown => ({ uri: pathToFileURL(join(root, 'thou_modules', ...steps)).href });

  it('is the one that package.json names, else index.thou', () => {
    expect(entry('named')).toEqual(at('named', 'parts.thou'));
    expect(entry('plain')).toEqual(at('plain', 'index.thou'));
  });

  it.each(['broken', 'hostile', 'number', 'large', 'linked'])('is index.thou where package.json is %s', (name) => {
    expect(entry(name)).toEqual(at(name, 'index.thou'));
  });

  it('is none where the name is none', () => {
    for (const path of ['package:', 'package:../named', 'package:named/../../outside.thou', 'package:no-such'])
      expect(new JobFiles(root).resolve(from, path)).not.toHaveProperty('uri');
  });
});
