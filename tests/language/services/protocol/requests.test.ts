/** How handlers of the table are run: addresses, cancelling, failing; over two connections joined in this process. */
import { PassThrough } from 'node:stream';
import { afterEach, expect, test } from 'vitest';
import { settingsIn } from '@thou/shared/settings';
import { createConnection, type ClientCapabilities } from 'vscode-languageserver/node';
import {
  CancellationTokenSource,
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { Addresses } from '../../../../language/src/services/addresses.ts';
import type { Asked, Feature } from '../../../../language/src/services/feature.ts';
import { refresh } from '../../../../language/src/services/refresh.ts';
import { serve } from '../../../../language/src/services/requests.ts';
import { library } from '../../../reference/library.ts';
import { workspaceOf } from '../open.ts';

const ends: (() => void)[] = [];
afterEach(() => ends.splice(0).forEach((end) => end()));

const uri = 'file:///jig.thou';

/** An editor's end of a line to a server with one handler. */
function joined(handle: (params: never, asked: Asked) => unknown) {
  const [there, back] = [new PassThrough(), new PassThrough()];
  const server = createConnection(there, back);
  const editor = createProtocolConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const logged: string[] = [];
  editor.onNotification('window/logMessage', ({ message }: { message: string }) => void logged.push(message));
  const feature: Feature = { capability: () => ({}), requests: [{ method: 'thou/try', handle: handle as never }] };
  const workspace = workspaceOf({ 'jig.thou': 'use prelude 1\n' });
  const addresses = new Addresses((one) => one.replace('%2e', '.'), library, false);
  const session = {
    workspace,
    guide: { library, cautions: [], drawings: [], sheets: [] },
    client: {},
    addresses,
    touched: () => undefined,
    settings: () => Promise.resolve(settingsIn({})),
    gathering: () => null,
    versionOf: () => null,
  };
  serve(server, [feature], session, (work) => {
    const soon = setImmediate(work);
    return () => clearImmediate(soon);
  });
  server.listen();
  editor.listen();
  ends.push(() => (editor.dispose(), server.dispose()));
  return { editor, logged, addresses };
}

test('a handler that throws is logged, answers nothing, and the next request is answered', async () => {
  let times = 0;
  const { editor, logged } = joined(() => {
    if (times++ === 0) throw new RangeError('too deep');
    return 'well';
  });
  expect(await editor.sendRequest('thou/try', {})).toBeNull();
  expect(await editor.sendRequest('thou/try', {})).toBe('well');
  expect(logged.join('\n')).toMatch(/thou\/try failed inside: RangeError: too deep/);
});

test('a request that was given up says so, also in the middle', async () => {
  let rounds = 0;
  const { editor } = joined(async (_, { breathe }) => {
    for (; rounds < 1_000_000; rounds++) await breathe();
    return 'half';
  });
  const source = new CancellationTokenSource();
  const answer = editor.sendRequest('thou/try', {}, source.token);
  setTimeout(() => source.cancel(), 20);
  await expect(answer).rejects.toMatchObject({ code: -32800 });
  expect(rounds).toBeLessThan(1_000_000);
});

test('an answer that comes too late is not sent', async () => {
  const { editor } = joined(async (_, { token }) => {
    await new Promise<void>((go) => token.onCancellationRequested(() => go()));
    return 'late';
  });
  const source = new CancellationTokenSource();
  const answer = editor.sendRequest('thou/try', {}, source.token);
  setTimeout(() => source.cancel(), 20);
  await expect(answer).rejects.toMatchObject({ code: -32800 });
});

test.each(['file:///nowhere.thou', 'git:/jig.thou'])('of %s nothing is known', async (address) => {
  const { editor } = joined(() => 'something');
  expect(await editor.sendRequest('thou/try', { textDocument: { uri: address } })).toBeNull();
  expect(await editor.sendRequest('thou/try', { textDocument: { uri } })).toBe('something');
});

test('addresses are the editor’s outside and one inside, in keys too', async () => {
  const { editor, addresses } = joined((params) => ({ changes: { [uri]: [] }, uri, params }));
  addresses.opened('file:///jig%2ethou');
  expect(await editor.sendRequest('thou/try', { textDocument: { uri: 'file:///jig%2ethou' }, newName: '%2e' })).toEqual(
    {
      changes: { 'file:///jig%2ethou': [] },
      uri: 'file:///jig%2ethou',
      params: { textDocument: { uri: 'file:///jig%2ethou' }, newName: '%2e' },
    },
  );
});

test('refreshed is what the editor can refresh and the server offers', () => {
  const sent: string[] = [];
  const connection = { sendRequest: (method: string) => (sent.push(method), Promise.resolve()) } as never;
  const able: ClientCapabilities = {
    workspace: { inlayHint: { refreshSupport: true }, codeLens: { refreshSupport: true }, semanticTokens: {} },
  } as ClientCapabilities;
  const offered = {
    inlayHintProvider: true,
    semanticTokensProvider: { legend: { tokenTypes: [], tokenModifiers: [] } },
  };
  refresh(connection, able, offered);
  expect(sent).toEqual(['workspace/inlayHint/refresh']);
});
