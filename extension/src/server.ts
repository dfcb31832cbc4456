/** The language server as the editor sees it: a process of its own, over standard input and output, that can be killed and started anew. */
import { buildStatusMethod, type AskedAtStart, type BuildStatus } from '@thou/shared/protocol';
import { commands, EventEmitter, l10n, window, type LogOutputChannel } from 'vscode';
import {
  CloseAction,
  ErrorAction,
  LanguageClient,
  TransportKind,
  type LanguageClientOptions,
  type ServerOptions,
} from 'vscode-languageclient/node';
import type { BuildStatusItem } from './build-status-item.ts';
import { Crashes } from './crashes.ts';
import { thouDocuments } from './documents.ts';

/** A server that does not answer in this time is killed, in milliseconds. */
const patience = 1500;

export class Server {
  private readonly run: ServerOptions;
  private readonly options: LanguageClientOptions;
  private readonly log: LogOutputChannel;
  private readonly status: BuildStatusItem;
  private readonly crashes = new Crashes();
  private client: LanguageClient | undefined;
  private readonly said = new EventEmitter<string>();
  /** The address of a text about which everything was said anew. */
  readonly onSaid = this.said.event;

  constructor(module: string, log: LogOutputChannel, status: BuildStatusItem) {
    const node = { module, transport: TransportKind.stdio };
    this.run = { run: node, debug: node };
    this.log = log;
    this.status = status;
    const asked: AskedAtStart = { buildStatus: true };
    this.options = {
      documentSelector: thouDocuments,
      initializationOptions: asked,
      outputChannel: log,
      // what is to be said to the user is said here, once
      initializationFailedHandler: () => false,
    };
  }

  async start(): Promise<void> {
    let ran = false;
    const gone = (): void => {
      if (ran && this.client === client) this.startAgain();
    };
    // by the first name the client library finds the setting thou.trace.server
    const client: LanguageClient = new LanguageClient('thou', 'Thou', this.run, {
      ...this.options,
      errorHandler: {
        error: () => ({ action: ErrorAction.Continue, handled: true }),
        closed: () => {
          gone();
          return { action: CloseAction.DoNotRestart, handled: true, message: 'The language server has stopped.' };
        },
      },
    });
    this.client = client;
    client.onNotification(buildStatusMethod, (status: BuildStatus) => {
      this.status.tell(status);
      this.said.fire(status.uri);
    });
    this.status.busy(l10n.t('Starting'));
    try {
      await client.start();
      ran = true;
      this.status.settled();
    } catch (problem) {
      this.log.error(problem instanceof Error ? problem : String(problem));
      this.giveUp(l10n.t('The language server of Thou did not start.'));
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

  /** Null where the server does not run, or has no answer. */
  async ask<T>(method: string, params: object): Promise<T | null> {
    if (!this.client?.isRunning()) return null;
    return this.client.sendRequest<T | null>(method, params).catch((problem: unknown) => {
      this.log.warn(String(problem));
      return null;
    });
  }

  async restart(): Promise<void> {
    this.crashes.forget();
    this.status.busy(l10n.t('Restarting'));
    await this.stop();
    await this.start();
  }

  private startAgain(): void {
    if (this.crashes.oneMore(Date.now())) void this.start();
    else this.giveUp(l10n.t('The language server of Thou stopped again and again. It was not started any more.'));
  }

  private giveUp(why: string): void {
    this.status.failed(why);
    const [restart, showLog] = [l10n.t('Restart'), l10n.t('Show log')];
    void window.showErrorMessage(why, restart, showLog).then((choice) => {
      if (choice === restart) void commands.executeCommand('thou.restartServer');
      if (choice === showLog) this.log.show();
    });
  }
}
