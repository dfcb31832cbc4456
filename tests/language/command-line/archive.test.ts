/** Many files at once: shared out among threads, in their order, each as if it were alone; builds of one name are told apart. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { checking } from '../../../language/src/command-line/checked-file.ts';
import { sharedOut } from '../../../language/src/command-line/crew.ts';
import type { CompareResult } from '../../../shared/src/result/compare.ts';
import { thou } from './run.ts';

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'thou-archive-'));
});

afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Wrong in one place, so that there is something to be told. */
const jig = (name: string, wall: string): string => `use prelude 1
build ${name} {
  layout: single
  block.bore: ${wall}
  no-such: 1
}
`;

function put(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

describe('more files than one thread is given', () => {
  const how = { format: 'json', strict: false, hints: true, excerpt: false, painted: false };
  const names = Array.from({ length: 60 }, (_, at) => `job-${String(at + 1).padStart(2, '0')}`);

  test.runIf(availableParallelism() > 1)('each is told as alone, in the order of the files', async () => {
    const paths = names.map((name, at) => put(`${name}.thou`, jig(name, `${3 + at / 100} in`)));
    const all = await sharedOut(checking, { ...how, root: folder }, paths, (look) => look);
    expect(all.map(({ standing }) => standing.map(({ build }) => build))).toEqual(names.map((name) => [name]));
    const alone = checking.begin({ ...how, root: folder });
    for (const at of [0, 31, 59]) expect(all[at]).toEqual(alone(paths[at]!));
    expect(all.map(({ counts }) => counts.error)).toEqual(names.map(() => 1));
  });

  test('what cannot be read is refused in one line, as for a few', async () => {
    for (const name of names) put(`${name}.thou`, jig(name, '3 in'));
    const { code, err } = await thou('check', folder, '--root', join(folder, 'nowhere'));
    expect({ code, err }).toEqual({
      code: 2,
      err: expect.stringMatching(/^thou: There is no folder ".*nowhere"[^\n]*\n$/),
    });
  });
});

test('builds of one name in several files are told with their files', async () => {
  put('one.thou', jig('owl', '3 in'));
  put('two.thou', jig('owl', '3.1 in'));
  put('three.thou', jig('wren', '3 in'));
  const { out } = await thou('check', folder, '--root', folder);
  const standing = out.split('\n').filter((line) => /^ {2}\S/.test(line));
  expect(standing.map((line) => line.replace(/:.*/, '').replace(/ in .*\//, ' in '))).toEqual([
    '  owl in one.thou',
    '  wren',
    '  owl in two.thou',
  ]);
  const compared = await thou('compare', folder, '--root', folder, '--build', 'owl');
  expect(compared.out.split('\n')[0]).toMatch(/owl in .*one\.thou beside owl in .*two\.thou/);
  const { out: json } = await thou('compare', folder, '--root', folder, '--format', 'json');
  const { builds, files } = JSON.parse(json) as CompareResult;
  expect(builds.map((build, at) => `${build} ${files[at]!.split('/').at(-1)!}`)).toEqual([
    'owl one.thou',
    'wren three.thou',
    'owl two.thou',
  ]);
});
