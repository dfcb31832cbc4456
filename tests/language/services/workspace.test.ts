/** Whatever was typed, opened, closed or saved before: the answers are those of a fresh look. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { diagnosticsOf, piecesOf, type Reader } from '../../../language/src/services/diagnostics.ts';
import { Workspace } from '../../../language/src/services/workspace.ts';
import { library } from '../../reference/library.ts';
import { diskOf, workspaceOf } from './open.ts';

const reader: Reader = {
  client: { textDocument: { publishDiagnostics: { relatedInformation: true } } },
  pages: '',
  spelled: (uri) => uri,
};

const shelf = (bore: string): string => `part shelf-block: Block {\n  bore: ${bore}\n}\n`;
const jig =
  'use prelude 1\nuse "shelf.thou"\n\nbuild jig {\n  layout: single\n  block: shelf-block\n  expect block.bore within 4.0..4.2 in\n}\n';
const read =
  'use prelude 1\nuse "shelf.thou"\n\nbuild read {\n  layout: single\n  block: shelf-block\n  measured on 2026-01-02 {\n    block.bore: from "bores.csv"\n  }\n}\n';
const far = 'use prelude 1\nuse "jig.thou"\n\nvariant far of jig {\n  quench-limits: 0.80..1.00 mm\n}\n';

const texts: Readonly<Record<string, readonly string[]>> = {
  'shelf.thou': [shelf('4.1 in'), shelf('4.3 in'), shelf('4.1 inn'), 'part shelf-block: Block {', ''],
  'jig.thou': [jig, jig.replace('4.2', '4.4'), jig.replace('layout: single', ''), jig.slice(0, 60), '('.repeat(300)],
  'read.thou': [read, read.replace('bores', 'none')],
  'far.thou': [far, far.replace('jig.thou', 'shelf.thou')],
  'bores.csv': ['cylinder,bore [in]\n1,4.1\n', 'cylinder,bore [inn]\n1,4.1\n', ''],
};
const names = Object.keys(texts);
const address = (name: string): string => `file:///${name}`;
const told = (workspace: Workspace, name: string): unknown => {
  for (const piece of piecesOf(workspace, address(name))) piece();
  return diagnosticsOf(workspace, address(name), reader);
};

const step = fc.record({
  name: fc.constantFrom(...names),
  what: fc.constantFrom('type', 'close', 'save', 'delete', 'look', 'folder'),
  text: fc.nat(4),
});

test('any order of doings ends like a fresh start', { timeout: 120_000 }, () => {
  fc.assert(
    fc.property(fc.array(step, { minLength: 4, maxLength: 14 }), (steps) => {
      const disk = new Map(names.map((name) => [address(name), texts[name]![0]!]));
      const open = new Map<string, string>();
      const workspace = new Workspace(diskOf(disk), library);
      for (const { name, what, text } of steps) {
        const uri = address(name);
        const next = texts[name]![text % texts[name]!.length]!;
        if (what === 'type' && name.endsWith('.thou')) {
          open.set(uri, next);
          workspace.open(uri, next);
        } else if (what === 'close') {
          open.delete(uri);
          workspace.close(uri);
        } else if (what === 'save') {
          disk.set(uri, next);
          workspace.changedOnDisk(uri);
        } else if (what === 'delete') {
          disk.delete(uri);
          workspace.changedOnDisk(uri);
        } else if (what === 'folder') workspace.forgetDisk();
        else told(workspace, name);
      }
      const fresh = new Workspace(diskOf(disk), library);
      for (const [uri, text] of open) fresh.open(uri, text);
      expect([...workspace.known()].sort()).toEqual([...fresh.known()].sort());
      for (const name of names.filter((one) => one.endsWith('.thou'))) {
        expect(told(workspace, name)).toEqual(told(fresh, name));
        expect([...workspace.dependants(address(name))].sort()).toEqual([...fresh.dependants(address(name))].sort());
      }
    }),
    { seed: 20260411, numRuns: 60 },
  );
});

test('what rests on a file, through however many others', () => {
  const workspace = workspaceOf(new Map(names.map((name) => [name, texts[name]![0]!])));
  expect([...workspace.dependants(address('shelf.thou'))].sort()).toEqual(
    ['far', 'jig', 'read'].map((name) => address(`${name}.thou`)),
  );
  expect(workspace.dependants(address('bores.csv'))).toEqual([address('read.thou')]);
  expect(workspace.dependants(address('far.thou'))).toEqual([]);
  workspace.open(address('far.thou'), 'use prelude 1\n');
  expect([...workspace.dependants(address('jig.thou'))]).toEqual([]);
});

test('a result stands until something it reads changes', () => {
  const workspace = workspaceOf(new Map(names.map((name) => [name, texts[name]![0]!])));
  const result = workspace.result(address('jig.thou'));
  workspace.open(address('read.thou'), `${read}\n`);
  expect(workspace.result(address('jig.thou'))).toBe(result);
  workspace.open(address('shelf.thou'), shelf('4.3 in'));
  expect(workspace.result(address('jig.thou'))).not.toBe(result);
});

test('circles of files come to an end', () => {
  const workspace = workspaceOf({ 'a.thou': 'use "b.thou"\n', 'b.thou': 'use "a.thou"\n' });
  expect(workspace.dependants(address('a.thou'))).toEqual([address('b.thou')]);
});
