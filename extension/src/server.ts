/** The language server as the editor sees it: something that can be ended and started anew. Where it runs is for whoever launches it. */
import { buildStatusMethod, type AskedAtStart, type BuildStatus } from '@thou/shared/protocol';
import { commands, EventEmitter, l10n, window, type LogOutputChannel } from 'vscode';
import { CloseAction, ErrorAction, type LanguageClientOptions } from 'vscode-languageclient';
import { agreements } from './agreements.ts';
import type { BuildStatusItem } from './build-status-item.ts';
import { Crashes } from './crashes.ts';
import { schemes, thouDocuments } from './documents.ts';
import { readThroughEditor } from './files.ts';
import type { Launch, Launched } from './launch.ts';
import { problemPages } from './pages.ts';

/** A server that does not answer in this time is killed, in milliseconds. */
const patience = 1500;

export class Server {
  private readonly launch: Launch;
  private readonly options: LanguageClientOptions;
  private readonly log: LogOutputChannel;
  private readonly status: BuildStatusItem;
  private readonly crashes = new Crashes();
  private launched: Launched | undefined;
  private readonly said = new EventEmitter<string>();
  /** The address of a text about which everything was said anew. */
  readonly onSaid = this.said.event;

  constructor(launch: Launch, log: LogOutputChannel, status: BuildStatusItem) {
    this.launch = launch;
    this.log = log;
    this.status = status;
    const asked: AskedAtStart = { buildStatus: true, readsFiles: true, schemes, pages: problemPages };
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
      if (ran && this.launched === launched) this.startAgain();
    };
    const launched: Launched = this.launch({
      ...this.options,
      errorHandler: {
        error: () => ({ action: ErrorAction.Continue, handled: true }),
        closed: () => {
          gone();
          return {
            action: CloseAction.DoNotRestart,
            handled: true,
            message: l10n.t('The language server has stopped.'),
          };
        },
      },
    });
    const { client } = launched;
    this.launched = launched;
    readThroughEditor(client);
    client.registerFeature(agreements);
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
    const { launched } = this;
    this.launched = undefined;
    await launched?.stop(patience).catch((problem: unknown) => this.log.warn(String(problem)));
  }

  /** Null where the server does not run, or has no answer. */
  async ask<T>(method: string, params: object): Promise<T | null> {
    const client = this.launched?.client;
    if (!client?.isRunning()) return null;
    return client.sendRequest<T | null>(method, params).catch((problem: unknown) => {
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
