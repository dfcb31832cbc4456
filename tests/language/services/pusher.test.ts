/** In which order files are looked at, and what is said of them; time stands still but for the test. */
import { beforeEach, expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver-protocol';
import { Pusher } from '../../../language/src/services/pusher.ts';
import type { Workspace } from '../../../language/src/services/workspace.ts';
import { workspaceOf } from './open.ts';

const shelf = 'use prelude 1\n\npart shelf-block: Block {\n  bore: 4.1 in\n}\n';
const user = 'use prelude 1\nuse "shelf.thou"\n\nbuild jig {\n  block: shelf-block\n}\n';
const at = (name: string): string => `file:///${name}.thou`;

let waiting: { work: () => void; milliseconds: number }[];
let told: string[];
let found: (uri: string) => string;
/** What is left to do of a file. */
let pieces: Map<string, (() => void)[]>;
/** Files with a slip in the text itself. */
let slipped: Set<string>;
let workspace: Workspace;
let pusher: Pusher;

beforeEach(() => {
  waiting = [];
  told = [];
  pieces = new Map();
  slipped = new Set();
  found = (uri) => workspace.read(uri) ?? '';
  workspace = workspaceOf({
    'shelf.thou': shelf,
    'a.thou': user,
    'b.thou': user,
    'c.thou': user,
    'far.thou': 'use "a.thou"\n',
  });
  pusher = new Pusher(workspace, {
    pieces: (uri) => pieces.get(uri) ?? [],
    glance: (uri) => (slipped.has(uri) ? [{ message: 'a slip' } as Diagnostic] : []),
    look: (uri) => [{ message: found(uri) } as Diagnostic],
    publish: (uri, diagnostics) => void told.push(`${uri.slice(8, -5)}${diagnostics.length === 0 ? ' cleared' : ''}`),
    said: () => {},
    versionOf: (uri) => (workspace.isOpen(uri) ? 1 : undefined),
    settled: (others) => void told.push(others ? 'settled, others too' : 'settled'),
    failed: (uri) => void told.push(`${uri.slice(8, -5)} failed`),
    later(work, milliseconds = 0) {
      const one = { work, milliseconds };
      waiting.push(one);
      return () => (waiting = waiting.filter((other) => other !== one));
    },
  });
});

/** Lets what is due run; `quiet` also what waits for quiet. */
function run(quiet = false): string[] {
  for (;;) {
    const next = waiting.find(({ milliseconds }) => milliseconds === 0) ?? (quiet ? waiting[0] : undefined);
    if (!next) break;
    waiting = waiting.filter((one) => one !== next);
    next.work();
  }
  return told.splice(0);
}

function open(...names: string[]): void {
  for (const name of names) {
    workspace.open(at(name), workspace.read(at(name)) ?? '');
    pusher.changed(at(name));
  }
}

test('the edited file, then the open ones that rest on it, the others when it is quiet', () => {
  open('b', 'a', 'shelf');
  expect(run(true).sort()).toEqual(['a', 'b', 'c', 'far', 'settled, others too', 'shelf'].sort());
  found = (uri) => `again ${uri}`;
  workspace.change(at('shelf'), shelf.replace('4.1', '4.2'));
  pusher.changed(at('shelf'));
  expect(run()).toEqual(['shelf', 'a', 'b', 'settled, others too']);
  expect(run(true)).toEqual(['c', 'far']);
});

/** So many pieces, each of which takes itself off the list. */
function piecesLeft(name: string, count: number): void {
  const left = Array.from({ length: count }, () => () => void left.pop());
  pieces.set(at(name), left);
}

test('what is first heard of a file is said while the rest is done, an edit between two pieces is let in', () => {
  piecesLeft('a', 5);
  open('a');
  expect(run()).toEqual(['a', 'a', 'a', 'a', 'settled']); // after one, two, four pieces, and when all is done
  piecesLeft('a', 5);
  pusher.changed(at('a'));
  expect(run()).toEqual(['a']); // what is heard first, then nothing until the one who types had time for another letter
  open('b');
  expect(run(true).slice(0, 3)).toEqual(['b', 'a', 'settled']);
});

test('every edit is answered at once, however much is left of the one before', () => {
  open('a');
  run();
  for (const letter of ['x', 'y', 'z']) {
    piecesLeft('a', 5);
    found = (uri) => `${letter} ${uri}`;
    pusher.changed(at('a'));
    expect(run()).toEqual(['a']);
  }
  expect(run(true).slice(0, 2)).toEqual(['a', 'settled']);
});

test('a question between the answer to an edit and the rest of it holds nothing back that shows', () => {
  open('a');
  run(true);
  piecesLeft('a', 3);
  found = (uri) => `again ${uri}`;
  pusher.changed(at('a'));
  expect(run()).toEqual(['a']);
  pusher.touched(at('a'));
  expect(run(true).slice(0, 2)).toEqual(['a', 'settled']);
});

test('slips in a text that was just opened are said before anything else is looked at, once', () => {
  slipped.add(at('a'));
  open('a');
  waiting.shift()?.work();
  expect(told).toEqual(['a']);
  expect(run()).toEqual(['a', 'a', 'settled']);
  pusher.changed(at('a'));
  expect(run()).toEqual(['a', 'settled']);
  pusher.closed(at('a'));
  run(true);
  open('a');
  expect(run()).toEqual(['a', 'settled']); // what was said of it stands already
});

test('closed for good while only a part of it was said: that part is cleared', () => {
  pieces.set('untitled:x', [() => {}, () => {}]);
  workspace.open('untitled:x', 'x');
  pusher.changed('untitled:x');
  waiting.shift()?.work();
  expect(told.length).toBe(1);
  workspace.close('untitled:x');
  pieces.clear();
  pusher.closed('untitled:x');
  expect(told.at(-1)).toMatch(/cleared$/);
});

test('a piece that fails stops neither its file for ever nor the others', () => {
  pieces.set(at('c'), [
    () => {
      throw new RangeError('too deep');
    },
  ]);
  open('a');
  pusher.changedAll();
  expect(run(true).filter((one) => one.includes('c'))).toEqual(['c failed']);
});

test('the file last looked at goes before the others', () => {
  open('a', 'b', 'shelf');
  run(true);
  pusher.touched(at('b'));
  found = (uri) => `again ${uri}`;
  workspace.change(at('shelf'), shelf.replace('4.1', '4.2'));
  pusher.changed(at('shelf'));
  expect(run().slice(0, 3)).toEqual(['shelf', 'b', 'a']);
});

test('an edit in the middle puts its file in front, and quiet work waits again', () => {
  open('a', 'b', 'shelf');
  run(true);
  found = (uri) => `again ${uri}`;
  workspace.change(at('shelf'), shelf.replace('4.1', '4.2'));
  pusher.changed(at('shelf'));
  waiting.shift()?.work(); // shelf is said
  workspace.change(at('a'), `${user}\n`);
  pusher.changed(at('a'));
  expect(run()).toEqual(['shelf', 'a', 'b', 'settled, others too']);
  workspace.change(at('b'), `${user}\n`);
  pusher.changed(at('b'));
  expect(run()).toEqual(['b', 'settled']);
  expect(run(true)).toEqual(['c', 'far']);
});

test('a question holds back the files that nobody sees, one after the other', () => {
  open('a');
  run();
  pusher.changedAll();
  expect(run()).toEqual(['settled, others too']);
  waiting.shift()?.work(); // it was quiet: one of them, and the next is due at once
  expect(told.splice(0)).toHaveLength(1);
  expect(waiting.map(({ milliseconds }) => milliseconds)).toEqual([0]);
  pusher.touched(at('a'));
  expect(run()).toEqual([]);
  expect(run(true).length).toBeGreaterThan(1);
});

test('what is as it was is not said again, but a new version is answered', () => {
  open('a');
  run(true);
  pusher.changedAll();
  expect(run().filter((one) => one === 'a')).toEqual([]);
  workspace.change(at('a'), user);
  pusher.changed(at('a'));
  expect(run()).toEqual(['a', 'settled']);
});

test('one that fails stops none', () => {
  open('a', 'b');
  found = (uri) => {
    if (uri === at('b')) throw new RangeError('too deep');
    return '';
  };
  expect(run()).toEqual(['b failed', 'a', 'settled']);
  found = () => 'mended';
  pusher.changed(at('b'));
  expect(run()).toEqual(['b', 'settled']);
});

test('edited and closed before it was said: what was said before is cleared', () => {
  workspace.open('untitled:x', 'x');
  pusher.changed('untitled:x');
  run(true);
  workspace.change('untitled:x', 'xy');
  pusher.changed('untitled:x');
  workspace.close('untitled:x');
  pusher.closed('untitled:x');
  expect(run(true)[0]).toMatch(/cleared$/);
});

test('after the end nothing is said', () => {
  open('a');
  pusher.stop();
  expect(run(true)).toEqual([]);
});
