import { expect, test } from 'vitest';
import { Settings } from '../../../language/src/services/settings.ts';

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
  return { asked, connection: { workspace } as unknown as ConstructorParameters<typeof Settings>[0] };
}

test('each file is asked for once, until something changes', async () => {
  let depth = 1;
  const { asked, connection } = asking((scope) => ({ scope, depth }));
  const settings = new Settings(connection, { workspace: { configuration: true } }, undefined);
  expect(await settings.of('file:///a/x.thou')).toEqual({ scope: 'file:///a/x.thou', depth: 1 });
  expect(await settings.of('file:///b/x.thou')).toEqual({ scope: 'file:///b/x.thou', depth: 1 });
  await settings.of('file:///a/x.thou');
  expect(asked).toEqual(['file:///a/x.thou', 'file:///b/x.thou']);
  depth = 2;
  settings.changed(undefined);
  expect(await settings.of('file:///a/x.thou')).toEqual({ scope: 'file:///a/x.thou', depth: 2 });
});

test('an editor that cannot be asked tells', async () => {
  const { asked, connection } = asking(() => ({}));
  const settings = new Settings(connection, {}, { margin: 1 });
  expect(await settings.of('file:///x.thou')).toEqual({ margin: 1 });
  settings.changed({ thou: { margin: 2 } });
  expect(await settings.of('file:///x.thou')).toEqual({ margin: 2 });
  expect(asked).toEqual([]);
});

test.each([null, 'text', [1]])('an answer that is no record is none: %j', async (answer) => {
  const settings = new Settings(asking(() => answer).connection, { workspace: { configuration: true } }, undefined);
  expect(await settings.of('file:///x.thou')).toEqual({});
});
