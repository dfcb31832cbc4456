/** One request of the table of features, answered as the server would; with the settings that are told. */
import { CancellationToken, type ClientCapabilities } from 'vscode-languageserver';
import { settingsIn } from '@thou/shared/settings';
import type { Asked } from '../../../language/src/services/feature.ts';
import { features } from '../../../language/src/services/features.ts';
import type { Workspace } from '../../../language/src/services/workspace.ts';
import { library } from '../../reference/library.ts';
import { breathe } from './open.ts';

const can: ClientCapabilities = {
  textDocument: {
    completion: { completionItem: { snippetSupport: true } },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
  },
};

export function answered(workspace: Workspace, method: string, params: object, told: object = {}): Promise<unknown> {
  const request = features.flatMap(({ requests }) => requests).find((one) => one.method === method);
  const asked: Asked = {
    workspace,
    guide: { library, cautions: [], drawings: [], sheets: [] },
    client: can,
    token: CancellationToken.None,
    progress: { begin: () => {}, report: () => {}, done: () => {} },
    settings: () => Promise.resolve(settingsIn({ ...told })),
    versionOf: () => 1,
    tell: () => {},
    breathe,
  };
  return Promise.resolve(request!.handle(params, asked));
}
