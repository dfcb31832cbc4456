import { expect, test } from 'vitest';
import { settingsIn } from '@thou/shared/settings';
import { Settings } from '../../../language/src/services/settings.ts';

type Connection = ConstructorParameters<typeof Settings>[0];

/** An editor that is asked for settings, and what it was asked. */
function asking(answer: (scope: string | undefined) => unknown) {
  const asked: (string | undefined)[] = [];
  const workspace = {
    getConfiguration: (item: { scopeUri?: string; section?: string }) => {
      asked.push(item.scopeUri);
      expect(item.section).toBe('thou');
      return Promise.resolve(answer(item.scopeUri));
    },
  };
  return { asked, connection: { workspace } as unknown as Connection };
}

const places = (count: number) => ({ hover: { places: count } });
const can = { workspace: { configuration: true } };
const settled = () => new Promise((done) => setImmediate(done));

test('each file is asked for once, until something changes', async () => {
  let count = 1;
  const { asked, connection } = asking((scope) => places(scope === 'file:///a/x.thou' ? count : 50));
  const settings = new Settings(connection, can, undefined);
  expect((await settings.of('file:///a/x.thou'))['hover.places']).toBe(1);
  expect((await settings.of('file:///b/x.thou'))['hover.places']).toBe(50);
  await settings.of('file:///a/x.thou');
  expect(asked).toEqual(['file:///a/x.thou', 'file:///b/x.thou']);
  count = 2;
  settings.changed(undefined);
  expect((await settings.of('file:///a/x.thou'))['hover.places']).toBe(2);
});

test('an editor that cannot be asked tells', async () => {
  const { asked, connection } = asking(() => ({}));
  const settings = new Settings(connection, {}, places(1));
  expect((await settings.of('file:///x.thou'))['hover.places']).toBe(1);
  settings.changed({ thou: places(2) });
  expect(settings.now('file:///x.thou')['hover.places']).toBe(2);
  expect(asked).toEqual([]);
});

test.each([null, 'text', [1]])('an answer that is no record is none: %j', async (answer) => {
  const settings = new Settings(asking(() => answer).connection, can, undefined);
  expect(await settings.of('file:///x.thou')).toEqual(settingsIn({}));
});

test('without waiting: as usual at first, then as heard, and who waits for it is told where it differs', async () => {
  let answer: unknown = places(7);
  const heard: string[] = [];
  const { asked, connection } = asking(() => answer);
  const settings = new Settings(connection, can, undefined, (uri) => heard.push(uri));
  expect(settings.now('file:///x.thou')).toEqual(settingsIn({}));
  await settled();
  expect(settings.now('file:///x.thou')['hover.places']).toBe(7);
  expect([asked.length, heard]).toEqual([1, ['file:///x.thou']]);
  // a change of something else: asked again, nothing to tell
  settings.changed(undefined);
  expect(settings.now('file:///x.thou')['hover.places']).toBe(7);
  await settled();
  expect([asked.length, heard.length]).toEqual([2, 1]);
  answer = places(9);
  settings.changed(undefined);
  settings.now('file:///x.thou');
  await settled();
  expect(settings.now('file:///x.thou')['hover.places']).toBe(9);
  expect(heard).toHaveLength(2);
});

test('an answer that comes after a change is not kept', async () => {
  const waiting: ((values: unknown) => void)[] = [];
  const workspace = { getConfiguration: () => new Promise((done) => waiting.push(done)) };
  const settings = new Settings({ workspace } as unknown as Connection, can, undefined);
  settings.now('file:///x.thou');
  settings.changed(undefined);
  settings.now('file:///x.thou');
  waiting[1]!(places(2));
  waiting[0]!(places(1));
  await settled();
  expect(settings.now('file:///x.thou')['hover.places']).toBe(2);
});

test('a question that fails is asked again', async () => {
  let fails = true;
  const workspace = {
    getConfiguration: () => (fails ? Promise.reject(new Error('gone')) : Promise.resolve(places(3))),
  };
  const settings = new Settings({ workspace } as unknown as Connection, can, undefined);
  expect(await settings.of('file:///x.thou')).toEqual(settingsIn({}));
  fails = false;
  expect((await settings.of('file:///x.thou'))['hover.places']).toBe(3);
});
