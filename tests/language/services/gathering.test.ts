/** What is held back while the editor reads files, and when it is let go. */
import { expect, test } from 'vitest';
import { Gathering } from '../../../language/src/services/gathering.ts';

/** A clock that stands still until it is told how late it is. */
function clock() {
  const waiting: { readonly work: () => void; readonly after: number }[] = [];
  const later = (work: () => void, after = 0): (() => void) => {
    const one = { work, after };
    waiting.push(one);
    return () => void waiting.splice(waiting.indexOf(one), waiting.includes(one) ? 1 : 0);
  };
  const pass = (milliseconds: number): void => {
    for (const one of [...waiting].filter(({ after }) => after <= milliseconds)) {
      waiting.splice(waiting.indexOf(one), 1);
      one.work();
    }
  };
  return { later, pass, waiting };
}

const messages = (): Promise<void> => new Promise((done) => setImmediate(done));

function gathering() {
  const time = clock();
  const done: string[] = [];
  return { time, done, held: new Gathering(time.later), say: (what: string) => () => void done.push(what) };
}

test('with nothing to read all goes on at once', () => {
  const { held, done, say } = gathering();
  held.start(null, say('looked'));
  expect([held.under, done]).toEqual([null, ['looked']]);
});

test('what is asked for meanwhile comes behind the look at all files', async () => {
  const { held, time, done, say } = gathering();
  const reading = Promise.withResolvers<void>();
  held.start(reading.promise, say('looked'));
  void held.under?.then(say('answered'));
  held.later(say('pushed'));
  held.later(say('never'))();
  time.pass(0);
  await messages();
  expect(done).toEqual([]);
  reading.resolve();
  await messages();
  time.pass(0);
  expect(done).toEqual(['looked', 'answered', 'pushed']);
  expect(time.waiting).toEqual([]);
});

test.each([
  ['reading that fails', (reading: PromiseWithResolvers<void>) => reading.reject(new Error('no'))],
  ['an editor that never answers', (_: unknown, pass: (milliseconds: number) => void) => pass(60_000)],
])('%s holds nothing up', async (_, happen) => {
  const { held, time, done, say } = gathering();
  const reading = Promise.withResolvers<void>();
  held.start(reading.promise, say('looked'));
  void held.under?.then(say('answered'));
  happen(reading, time.pass);
  await messages();
  expect([held.under, done]).toEqual([null, ['looked', 'answered']]);
  reading.resolve();
  await messages();
  expect(done).toEqual(['looked', 'answered']);
});

test('folders that change meanwhile are waited for instead', async () => {
  const { held, done, say } = gathering();
  const [first, second] = [Promise.withResolvers<void>(), Promise.withResolvers<void>()];
  held.start(first.promise, say('first'));
  void held.under?.then(say('answered'));
  held.start(second.promise, say('second'));
  first.resolve();
  await messages();
  expect(done).toEqual([]);
  second.resolve();
  await messages();
  expect(done).toEqual(['second', 'answered']);
});
