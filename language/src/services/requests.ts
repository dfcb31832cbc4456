// Runs the handlers of the feature table: one that fails is logged and answers nothing, one that was given up says so.
import {
  LSPErrorCodes,
  ResponseError,
  type CancellationToken,
  type ClientCapabilities,
  type Connection,
  type ProgressToken,
} from 'vscode-languageserver';
import type { Addresses } from './addresses.ts';
import type { Environment, Guide } from './environment.ts';
import type { Asked, Feature, Request } from './feature.ts';
import type { Workspace } from './workspace.ts';

/** What stands once the editor has said what it can do. */
export interface Session extends Pick<Asked, 'settings' | 'versionOf'> {
  readonly workspace: Workspace;
  readonly guide: Guide;
  readonly client: ClientCapabilities;
  readonly addresses: Addresses;
  touched(uri: string): void;
  /** Files of the folders are on their way: an answer would be of half of them. Null when all are there. */
  gathering(): Promise<void> | null;
}

export function serve(
  connection: Connection,
  features: readonly Feature[],
  session: Session,
  later: Environment['later'],
): void {
  for (const one of features.flatMap(({ requests }) => requests))
    connection.onRequest(one.method, (params: unknown, token: CancellationToken) =>
      answer(connection, one, params, token, session, later),
    );
}

async function answer(
  connection: Connection,
  { method, handle }: Request,
  params: unknown,
  token: CancellationToken,
  session: Session,
  later: Environment['later'],
): Promise<unknown> {
  const { workspace, guide, client, addresses } = session;
  const breathe = async (): Promise<void> => {
    await new Promise<void>((go) => void later(go));
    if (token.isCancellationRequested) throw givenUp();
  };
  try {
    const gathering = session.gathering();
    if (gathering) await gathering;
    const inside = addresses.messageIn(params);
    const uri = documentOf(inside);
    // the other side of a comparison, a file that is gone: nothing is known of it
    if (uri !== undefined && (!addresses.isRead(uri) || !workspace.source(uri))) return null;
    if (uri !== undefined && workspace.isOpen(uri)) session.touched(uri);
    const progress = connection.window.attachWorkDoneProgress(progressTokenOf(params));
    if (token.isCancellationRequested) return givenUp();
    const asked: Asked = {
      workspace,
      guide,
      client,
      token,
      progress,
      breathe,
      tell: (message) => connection.window.showWarningMessage(message),
      settings: (of) => session.settings(of),
      versionOf: (of) => session.versionOf(of),
    };
    const found = await handle(inside, asked);
    return token.isCancellationRequested ? givenUp() : addresses.messageOut(found ?? null);
  } catch (problem) {
    if (problem instanceof ResponseError) return problem;
    connection.console.error(`${method} failed inside: ${trailOf(problem)}`);
    return null;
  }
}

function givenUp(): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.RequestCancelled, 'given up');
}

function documentOf(params: unknown): string | undefined {
  return (params as { textDocument?: { uri?: string } } | undefined)?.textDocument?.uri;
}

function progressTokenOf(params: unknown): ProgressToken | undefined {
  return (params as { workDoneToken?: ProgressToken } | undefined)?.workDoneToken;
}

export function trailOf(problem: unknown): string {
  return problem instanceof Error ? (problem.stack ?? problem.message) : String(problem);
}
