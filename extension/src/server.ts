/** The language server as the editor sees it: a process of its own, over standard input and output, that can be killed and started anew. */
import { buildStatusMethod, type AskedAtStart, type BuildStatus } from '@thou/shared/protocol';
import { l10n, workspace, type LogOutputChannel } from 'vscode';
import {
  LanguageClient,
  TransportKind,
  type LanguageClientOptions,
  type ServerOptions,
} from 'vscode-languageclient/node';
import type { BuildStatusItem } from './build-status-item.ts';
import { thouDocuments } from './documents.ts';

/** A server that does not answer in this time is killed. */
const patience = 1500;

export class Server {
  private readonly run: ServerOptions;
  private readonly options: LanguageClientOptions;
  private readonly log: LogOutputChannel;
  private readonly status: BuildStatusItem;
  private client: LanguageClient | undefined;

  constructor(module: string, log: LogOutputChannel, status: BuildStatusItem) {
    const node = { module, transport: TransportKind.stdio };
    this.run = { run: node, debug: node };
    this.log = log;
    this.status = status;
    const asked: AskedAtStart = { buildStatus: true };
    this.options = {
      documentSelector: thouDocuments,
      synchronize: { fileEvents: ['**/*.thou', '**/*.csv'].map((glob) => workspace.createFileSystemWatcher(glob)) },
      initializationOptions: asked,
      outputChannel: log,
    };
  }

  async start(): Promise<void> {
    // by the first name the client library finds the setting thou.trace.server
    const client = new LanguageClient('thou', 'Thou', this.run, this.options);
    this.client = client;
    client.onNotification(buildStatusMethod, (status: BuildStatus) => this.status.tell(status));
    this.status.busy(l10n.t('Starting'));
    try {
      await client.start();
      this.status.settled();
    } catch (problem) {
      this.log.error(problem instanceof Error ? problem : String(problem));
      this.status.failed(l10n.t('The language server did not start'));
    }
  }

  /** Also when it hangs: asked first, killed if it does not go. */
  async stop(): Promise<void> {
    const client = this.client;
    this.client = undefined;
    if (!client) return;
    const process = client.serverProcess;
    await client.dispose(patience).catch((problem: unknown) => this.log.warn(String(problem)));
    process?.kill('SIGKILL');
  }

  async restart(): Promise<void> {
    this.status.busy(l10n.t('Restarting'));
    await this.stop();
    await this.start();
  }
}
