// What commands write to the disk with -o: where, over what, and how it is told.
import {
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { thou } from './run.ts';

const top = fileURLToPath(new URL('../../../', import.meta.url));
const one = 'use prelude 1\nbuild one { layout: single, block.bore: 80.0 mm, crank.stroke: 70.0 mm }\n';

let folder: string;
const file = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
beforeAll(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'thou-written-')));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it('-o writes a table over one that was written so, and over no readings', async () => {
  const target = join(folder, 'shop.csv');
  const asked = [
    'sheet',
    join(top, 'samples/gill-350.thou'),
    '--format',
    'csv',
    '--sheet',
    'machine-shop',
    '-o',
    target,
  ];
  expect(await thou(...asked)).toMatchObject({ code: 0, out: '' });
  expect(readFileSync(target, 'utf8')).toMatch(/^Build,Part,.*\r\n/);
  expect((await thou(...asked)).code).toBe(0);
  writeFileSync(target, 'cylinder,bore\n1,4.125\n');
  expect(await thou(...asked)).toMatchObject({ code: 2 });
  expect(readFileSync(target, 'utf8')).toBe('cylinder,bore\n1,4.125\n');
});

it('-o writes the sheet, never over a file of the job', async () => {
  const path = file('written.thou', one);
  const target = join(folder, 'sheet.txt');
  expect(await thou('sheet', path, '-o', target)).toEqual({
    code: 0,
    out: '',
    err: `thou: ${target} is written: the sheet of one.\n`,
  });
  expect(readFileSync(target, 'utf8')).toBe((await thou('sheet', path)).out);
  for (const bad of [path, join(folder, 'other.thou'), join(folder, 'data.csv')]) {
    expect((await thou('sheet', path, '-o', bad)).code).toBe(2);
  }
  symlinkSync(path, join(folder, 'link.txt'));
  expect((await thou('sheet', path, '-o', join(folder, 'link.txt'))).code).toBe(2);
  expect(readFileSync(path, 'utf8')).toBe(one);
  expect(existsSync(join(folder, 'other.thou'))).toBe(false);
});

it('-o tells what it wrote: which builds, how many files, where', async () => {
  const target = join(folder, 'both.html');
  const two = `${one}variant longer of one { crank.stroke: 71.0 mm }\n`;
  const { err } = await thou('sheet', file('two.thou', two), '--format', 'html', '-o', target);
  expect(err).toBe(`thou: ${target} is written: the sheets of one and longer.\n`);
  const many = Array.from({ length: 7 }, (_, at) => `variant v${at} of one { crank.stroke: ${60 + at} mm }\n`);
  const more = file('more.thou', one + many.join(''));
  expect((await thou('sheet', more, '-o', target)).err).toBe(`thou: ${target} is written: the sheets of 8 builds.\n`);
  const pages = join(folder, 'pages\u001b');
  for (const [format, start] of [
    ['html', 'index.html'],
    ['markdown', 'README.md'],
  ] as const) {
    const to = `${pages}${format}`;
    const ran = await thou('manual', '--format', format, '-o', to);
    const seen = to.replace('\u001b', '\\u{1b}');
    expect(ran).toEqual({
      code: 0,
      out: '',
      err: `thou: ${readdirSync(to).length} files are written into ${seen}; begin with ${join(seen, start)}.\n`,
    });
    expect(existsSync(join(to, start))).toBe(true);
  }
});
