/** Completion as the protocol asks for it. */
import { CompletionRequest, CompletionResolveRequest, type ClientCapabilities } from 'vscode-languageserver-protocol';
import { request, type Feature } from '../feature.ts';
import { completion } from './completion.ts';
import type { Abilities } from './offer.ts';
import { resolveCompletion } from './resolve.ts';

function abilitiesOf(client: ClientCapabilities): Abilities {
  const item = client.textDocument?.completion?.completionItem;
  return {
    snippets: item?.snippetSupport === true,
    insertReplace: item?.insertReplaceSupport === true,
    markdown: item?.documentationFormat?.includes('markdown') === true,
  };
}

export const completionFeature: Feature = {
  capability: () => ({ completionProvider: { resolveProvider: true, triggerCharacters: ['.', '[', '"'] } }),
  requests: [
    request(CompletionRequest.type, async ({ textDocument, position }, { workspace, client, settings, breathe }) => {
      const can = abilitiesOf(client);
      const toFill = (await settings(textDocument.uri))['completion.toFill'];
      const snippets = can.snippets && toFill;
      return completion(workspace, textDocument.uri, position, { ...can, snippets }, breathe);
    }),
    request(CompletionResolveRequest.type, (item, { workspace, client }) =>
      resolveCompletion(workspace, item, abilitiesOf(client)),
    ),
  ],
};
