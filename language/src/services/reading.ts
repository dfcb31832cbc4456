// What helps to read a text, as rows of the table of features: each converts a place in, makes one call, and hands the answer out.
import {
  CallHierarchyIncomingCallsRequest,
  CallHierarchyOutgoingCallsRequest,
  CallHierarchyPrepareRequest,
  DeclarationRequest,
  DefinitionRequest,
  DocumentHighlightRequest,
  DocumentLinkRequest,
  DocumentSymbolRequest,
  HoverRequest,
  ImplementationRequest,
  ReferencesRequest,
  SignatureHelpRequest,
  TypeDefinitionRequest,
  TypeHierarchyPrepareRequest,
  TypeHierarchySubtypesRequest,
  TypeHierarchySupertypesRequest,
  WorkspaceSymbolRequest,
  WorkspaceSymbolResolveRequest,
  type ClientCapabilities,
  type TextDocumentPositionParams,
} from 'vscode-languageserver-protocol';
import { hierarchyAt, inputsOf, usersOf } from './call-hierarchy.ts';
import { definitionAt } from './definition.ts';
import { request, type Asked, type Feature } from './feature.ts';
import { highlightsAt } from './highlight.ts';
import { hoverAt } from './hover/hover.ts';
import { implementationsAt } from './implementation.ts';
import { linksOf } from './links.ts';
import { toOffset } from './positions.ts';
import { referencesAt } from './references.ts';
import { signatureHelpAt } from './signature-help.ts';
import { flatSymbolsOf, symbolsOf } from './symbols.ts';
import { typeDefinitionAt } from './type-definition.ts';
import { subtypesOf, supertypesOf, typeHierarchyAt } from './type-hierarchy.ts';
import type { Workspace } from './workspace.ts';
import { resolvedSymbol, workspaceSymbols } from './workspace-symbols.ts';

/** A feature that looks at one place of one file. */
function atPlace<T>(look: (workspace: Workspace, uri: string, offset: number, breathe: Asked['breathe']) => T) {
  return ({ textDocument: { uri }, position }: TextDocumentPositionParams, { workspace, breathe }: Asked): T =>
    look(workspace, uri, toOffset(workspace.positionsOf(uri), position), breathe);
}

function readsMarkdown({ textDocument }: ClientCapabilities): boolean {
  return textDocument?.hover?.contentFormat?.includes('markdown') === true;
}

export const readingFeatures: readonly Feature[] = [
  {
    capability: () => ({ hoverProvider: true }),
    requests: [
      request(HoverRequest.type, async (params, asked) => {
        const settings = await asked.settings(params.textDocument.uri);
        return atPlace((workspace, uri, offset) =>
          hoverAt(workspace, uri, offset, readsMarkdown(asked.client), settings),
        )(params, asked);
      }),
    ],
  },
  {
    capability: () => ({
      definitionProvider: true,
      declarationProvider: true,
      typeDefinitionProvider: true,
      implementationProvider: true,
    }),
    requests: [
      request(DefinitionRequest.type, atPlace(definitionAt)),
      // a figure is declared where it is defined
      request(DeclarationRequest.type, atPlace(definitionAt)),
      request(TypeDefinitionRequest.type, atPlace(typeDefinitionAt)),
      request(ImplementationRequest.type, atPlace(implementationsAt)),
    ],
  },
  {
    capability: () => ({ referencesProvider: true, documentHighlightProvider: true }),
    requests: [
      request(ReferencesRequest.type, (params, asked) =>
        atPlace((workspace, uri, offset, breathe) =>
          referencesAt(workspace, uri, offset, params.context.includeDeclaration, breathe),
        )(params, asked),
      ),
      request(DocumentHighlightRequest.type, atPlace(highlightsAt)),
    ],
  },
  {
    capability: () => ({ documentSymbolProvider: true, workspaceSymbolProvider: { resolveProvider: true } }),
    requests: [
      request(DocumentSymbolRequest.type, async ({ textDocument: { uri } }, { workspace, client, settings }) => {
        const figures = (await settings(uri))['outline.figures'];
        return client.textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true
          ? symbolsOf(workspace, uri, figures)
          : flatSymbolsOf(workspace, uri);
      }),
      request(WorkspaceSymbolRequest.type, ({ query }, { workspace, client }) => {
        const found = workspaceSymbols(workspace, query);
        const resolves = client.workspace?.symbol?.resolveSupport !== undefined;
        return resolves ? found : found.map((symbol) => resolvedSymbol(workspace, symbol));
      }),
      request(WorkspaceSymbolResolveRequest.type, (symbol, { workspace }) => resolvedSymbol(workspace, symbol)),
    ],
  },
  {
    capability: () => ({ signatureHelpProvider: { triggerCharacters: ['(', ','] } }),
    requests: [request(SignatureHelpRequest.type, atPlace(signatureHelpAt))],
  },
  {
    capability: () => ({ documentLinkProvider: { resolveProvider: false } }),
    requests: [
      request(DocumentLinkRequest.type, ({ textDocument: { uri } }, { workspace }) => linksOf(workspace, uri)),
    ],
  },
  {
    capability: () => ({ typeHierarchyProvider: true }),
    requests: [
      request(TypeHierarchyPrepareRequest.type, atPlace(typeHierarchyAt)),
      request(TypeHierarchySupertypesRequest.type, ({ item }, { workspace }) => supertypesOf(workspace, item)),
      request(TypeHierarchySubtypesRequest.type, ({ item }, { workspace, breathe }) =>
        subtypesOf(workspace, item, breathe),
      ),
    ],
  },
  {
    capability: () => ({ callHierarchyProvider: true }),
    requests: [
      request(CallHierarchyPrepareRequest.type, atPlace(hierarchyAt)),
      request(CallHierarchyIncomingCallsRequest.type, ({ item }, { workspace }) => usersOf(workspace, item)),
      request(CallHierarchyOutgoingCallsRequest.type, ({ item }, { workspace }) => inputsOf(workspace, item)),
    ],
  },
];
