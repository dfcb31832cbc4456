/** The table of what an editor can ask for: the tests that it names are there, and what the server announces has a row. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { initializeResult } from '../../language/src/services/capabilities.ts';
import { features } from '../../language/src/services/features.ts';

const tests = join(import.meta.dirname, '..');
const table = readFileSync(join(tests, 'editor/features.md'), 'utf8');

test('every test that it names is there', () => {
  const named = [...new Set([...table.matchAll(/`([\w/-]+\.test\.ts)`/g)].map((match) => match[1]!))];
  expect(named.length).toBeGreaterThan(30);
  expect(named.filter((file) => !existsSync(join(tests, file)))).toEqual([]);
});

test('every row of the protocol names a test', () => {
  const rows = table.split('\n').filter((line) => line.startsWith('| ') && !/^\| (-+|request|thing) /.test(line));
  expect(rows.filter((row) => !/\.test\.ts/.test(row))).toEqual([]);
});

test('what the server announces has a row', () => {
  const announced = initializeResult({ workspace: { textDocumentContent: {} } }, features, '').capabilities;
  const providers = Object.keys(announced).filter((key) => key.endsWith('Provider'));
  const words = providers.map((key) =>
    key.replace(/Provider$/, '').replace(/^document(Formatting|RangeFormatting|Highlight|Link|Symbol)$/, '$1'),
  );
  const said = table.toLowerCase();
  expect(words.length).toBeGreaterThan(15);
  expect(
    words.filter((word) => !said.includes(word === 'workspaceSymbol' ? 'workspace/symbol' : word.toLowerCase())),
  ).toEqual([]);
});
