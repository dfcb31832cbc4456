// Hostile paths: what a stranger's file may and may not make the command line read (OWASP path traversal cases).
import { mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { JobFiles, rootFor, startFile } from '../../../language/src/command-line/files.ts';
import { Refusal } from '../../../language/src/command-line/refusal.ts';

let top: string;
let root: string;
let files: JobFiles;
let from: string;

beforeAll(() => {
  top = realpathSync(mkdtempSync(join(tmpdir(), 'thou-files-')));
  root = join(top, 'job');
  mkdirSync(join(root, 'inner'), { recursive: true });
  mkdirSync(join(root, 'folder.thou'));
  mkdirSync(join(root, 'thou_modules', 'shelf'), { recursive: true });
  writeFileSync(join(root, 'start.thou'), '// start\n');
  writeFileSync(join(root, 'parts.thou'), '\uFEFF// parts\n');
  writeFileSync(join(root, 'inner', 'bores.csv'), 'a,b\n');
  writeFileSync(join(root, 'notes.txt'), 'secret');
  writeFileSync(join(root, 'latin.thou'), Buffer.from([0x2f, 0x2f, 0xb1, 0x0a]));
  writeFileSync(join(root, 'large.thou'), '');
  truncateSync(join(root, 'large.thou'), 2 * 1024 * 1024 + 1);
  writeFileSync(join(root, 'thou_modules', 'shelf', 'rods.thou'), '// rods\n');
  writeFileSync(join(top, 'outside.thou'), '// secret\n');
  mkdirSync(join(top, 'job-beside'));
  writeFileSync(join(top, 'job-beside', 'x.thou'), '// secret\n');
  symlinkSync(join(top, 'outside.thou'), join(root, 'link.thou'));
  symlinkSync(top, join(root, 'up'));
  symlinkSync(join(root, 'parts.thou'), join(root, 'alias.thou'));
  symlinkSync(join(root, 'notes.txt'), join(root, 'notes.thou'));
  files = new JobFiles(root);
  from = pathToFileURL(join(root, 'start.thou')).href;
});
afterAll(() => rmSync(top, { recursive: true, force: true }));

describe('what may be used', () => {
  it('finds a file beside and below, under the one name of where it really lies', () => {
    const parts = pathToFileURL(join(root, 'parts.thou')).href;
    expect(files.resolve(from, 'parts.thou')).toEqual({ uri: parts });
    expect(files.resolve(from, './inner/../parts.thou')).toEqual({ uri: parts });
    expect(files.resolve(from, 'alias.thou')).toEqual({ uri: parts });
    expect(files.resolve(from, 'inner/bores.csv')).toEqual({
      uri: pathToFileURL(join(root, 'inner', 'bores.csv')).href,
    });
  });

  it('reads UTF-8 without its mark', () => {
    expect(files.read(pathToFileURL(join(root, 'parts.thou')).href)).toBe('// parts\n');
  });

  it('finds a package in thou_modules upward', () => {
    const inner = pathToFileURL(join(root, 'inner', 'x.thou')).href;
    const rods = { uri: pathToFileURL(join(root, 'thou_modules', 'shelf', 'rods.thou')).href };
    expect(files.resolve(inner, 'package:shelf/rods.thou')).toEqual(rods);
    expect(files.resolve(inner, 'package:other/rods.thou')).toMatchObject({ problem: 'not-found' });
  });

  it('says that a file is not there', () => {
    expect(files.resolve(from, 'gone.thou')).toMatchObject({ problem: 'not-found' });
  });
});

describe('what is refused', () => {
  const refused = [
    '../outside.thou',
    '../job-beside/x.thou',
    '../gone.thou',
    'inner/../../outside.thou',
    'link.thou',
    'up/outside.thou',
    'notes.thou',
    'notes.txt',
    'folder.thou',
    'latin.thou',
    'large.thou',
    '/etc/passwd',
    '/etc/hosts.csv',
    '//host/share/x.thou',
    '\\\\host\\share\\x.thou',
    '..\\outside.thou',
    'C:\\x.thou',
    'C:x.thou',
    'file:///etc/x.thou',
    'https://example.org/x.thou',
    'data:text/plain,x.thou',
    'parts.thou\0.csv',
    '',
    'package:',
    'package:../outside.thou',
    'package:shelf/../../../../outside.thou',
    'package:shelf//etc/x.thou',
    'package:.hidden/../x.thou',
  ];
  it.each(refused)('%j', (path) => {
    const found = files.resolve(from, path);
    expect(found).toMatchObject({ problem: 'refused' });
    expect(JSON.stringify(found)).not.toContain('secret');
    expect(JSON.stringify(found)).not.toContain(top);
  });

  it('reads nothing by address either', () => {
    for (const path of ['notes.txt', 'link.thou', 'up/outside.thou', 'folder.thou']) {
      expect(files.read(pathToFileURL(join(root, path)).href)).toBeUndefined();
    }
    expect(files.read(pathToFileURL(join(top, 'outside.thou')).href)).toBeUndefined();
    expect(files.read('https://example.org/x.thou')).toBeUndefined();
  });

  it('tells nothing of what lies outside, not even whether it is there', () => {
    expect(files.resolve(from, '../outside.thou')).toEqual(files.resolve(from, '../gone.thou'));
  });
});

describe('the file that a command was given', () => {
  it.each(['gone.thou', 'folder.thou', 'notes.txt', 'latin.thou', 'large.thou'])('%s ends in one line', (name) => {
    expect(() => startFile(join(root, name))).toThrow(Refusal);
  });

  it('takes the repository as root, else what was asked for', () => {
    const path = join(root, 'inner', 'bores.csv');
    expect(rootFor(path, root)).toBe(root);
    mkdirSync(join(root, '.git'));
    expect(rootFor(path, undefined)).toBe(root);
    rmSync(join(root, '.git'), { recursive: true });
    expect(rootFor(path, undefined)).toBe(join(root, 'inner'));
    expect(() => rootFor(path, join(top, 'job-beside'))).toThrow(Refusal);
    expect(() => rootFor(path, join(top, 'none'))).toThrow(Refusal);
  });
});
