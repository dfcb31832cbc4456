// The language server: the protocol on one side, the workspace on the other. Knows no feature; the table brings them.
import {
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  DidChangeWorkspaceFoldersNotification,
  FileChangeType,
  TextDocumentContentRequest,
  type ClientCapabilities,
  type Connection,
  type Diagnostic,
  type InitializeParams,
  type InitializeResult,
} from 'vscode-languageserver';
import type { SettingValues } from '@thou/shared/settings';
import { buildStatusMethod, type AskedAtStart, type BuildStatus } from '@thou/shared/protocol';
import { Addresses, namesIn, virtualLibrary } from './addresses.ts';
import { buildStandings } from './build-status.ts';
import { initializeResult, showsVirtualTexts } from './capabilities.ts';
import { piecesOf } from './diagnostics.ts';
import { Disks, readerOf } from './disks.ts';
import { Documents } from './documents.ts';
import type { Environment, Guide } from './environment.ts';
import type { Feature } from './feature.ts';
import { features } from './features.ts';
import { Gathering } from './gathering.ts';
import { Pusher } from './pusher.ts';
import { refresh } from './refresh.ts';
import { serve, trailOf } from './requests.ts';
import { Settings } from './settings.ts';
import { Telling } from './telling.ts';
import { Workspace } from './workspace.ts';

/** Serves one editor until the connection ends. */
export function startServer(connection: Connection, environment: Environment): void {
  connection.onInitialize((params) => new Server(connection, environment, params).result);
  connection.listen();
}

class Server {
  readonly result: InitializeResult;
  private readonly connection: Connection;
  private readonly environment: Environment;
  private readonly features: readonly Feature[];
  private readonly client: ClientCapabilities;
  private readonly asked: AskedAtStart | null;
  private readonly addresses: Addresses;
  private readonly documents = new Documents();
  private readonly settings: Settings;
  private readonly workspace: Workspace;
  private readonly pusher: Pusher;
  private readonly folders: Set<string>;
  private readonly guide: Guide;
  private readonly disks: Disks;
  private readonly gathering: Gathering;

  constructor(connection: Connection, environment: Environment, params: InitializeParams) {
    const client = params.capabilities;
    const library = showsVirtualTexts(client) ? virtualLibrary(environment.library) : environment.library;
    this.connection = connection;
    this.guide = {
      library,
      cautions: environment.cautions,
      drawings: environment.drawings,
      sheets: environment.sheets,
    };
    this.environment = environment;
    this.client = client;
    this.asked = (params.initializationOptions ?? null) as AskedAtStart | null;
    this.features = [...features, ...(environment.own ?? [])];
    this.result = initializeResult(client, this.features, environment.version);
    this.addresses = new Addresses(
      (uri) => environment.canonical(uri),
      environment.library,
      showsVirtualTexts(client),
      this.asked?.schemes,
    );
    this.folders = new Set(foldersOf(params).map((uri) => this.folder(uri)));
    const reader = this.asked?.readsFiles === true ? readerOf(connection) : null;
    this.disks = new Disks(environment, reader, (uri, isGone) => this.happened([{ uri, isGone }]));
    this.disks.use([...this.folders]);
    this.gathering = new Gathering((work, milliseconds) => environment.later(work, milliseconds));
    this.settings = new Settings(connection, client, params.initializationOptions, () => this.pusher.changedAll());
    this.workspace = new Workspace(
      this.disks,
      library,
      namesIn(() => [...this.folders], library),
    );
    this.pusher = this.makePusher();
    this.listen();
  }

  private makePusher(): Pusher {
    const { connection, client, environment, workspace, addresses, documents } = this;
    const settingsOf = (uri: string): SettingValues => this.settings.now(this.scopeOf(uri));
    const reader = {
      client,
      pages: this.asked?.pages ?? environment.pages,
      spelled: (uri: string) => addresses.outward(uri),
    };
    const telling = new Telling(workspace, reader, settingsOf);
    const publish = (uri: string, diagnostics: Diagnostic[], version: number | undefined): void => {
      void connection.sendDiagnostics({
        uri: addresses.outward(uri),
        diagnostics,
        ...(version === undefined ? {} : { version }),
      });
    };
    return new Pusher(workspace, {
      pieces: (uri) => piecesOf(workspace, uri, settingsOf(uri)),
      glance: (uri) => telling.ofText(uri),
      look: (uri) => telling.diagnosticsOf(uri),
      publish,
      said: (uri) => {
        if (this.asked?.buildStatus === true && workspace.isOpen(uri)) this.tellStatus(uri);
      },
      versionOf: (uri) => documents.versionOf(addresses.outward(uri)),
      settled: (others) => others && refresh(connection, client, this.result.capabilities),
      failed: (uri, problem) => {
        telling.forget(uri);
        workspace.project.forget(uri);
        connection.console.error(`Looking at ${uri} failed inside: ${trailOf(problem)}`);
      },
      later: (work, milliseconds) => this.gathering.later(work, milliseconds),
    });
  }

  /** How the builds of an open file stand. */
  private tellStatus(uri: string): void {
    const status: BuildStatus = { uri: this.addresses.outward(uri), builds: buildStandings(this.workspace, uri) };
    void this.connection.sendNotification(buildStatusMethod, status);
  }

  private listen(): void {
    const { connection, workspace, addresses, pusher, environment } = this;
    this.listenToDocuments();
    this.listenToSurroundings();
    connection.onShutdown(() => pusher.stop());
    connection.onRequest(TextDocumentContentRequest.type, ({ uri }) => ({
      text: workspace.source(addresses.inward(uri))?.text ?? '',
    }));
    serve(
      connection,
      this.features,
      {
        workspace,
        guide: this.guide,
        client: this.client,
        addresses,
        touched: (uri) => pusher.touched(uri),
        gathering: () => this.gathering.under,
        settings: (uri) => this.settings.of(addresses.outward(uri)),
        versionOf: (uri) => this.documents.versionOf(addresses.outward(uri)) ?? null,
      },
      (work, milliseconds) => environment.later(work, milliseconds),
    );
  }

  private listenToDocuments(): void {
    const { connection, workspace, addresses, documents, pusher } = this;
    connection.onDidOpenTextDocument((params) => {
      if (!addresses.isRead(params.textDocument.uri)) return;
      const uri = addresses.opened(params.textDocument.uri);
      workspace.open(uri, documents.open(params));
      this.lookAgainUnlessTold();
      pusher.changed(uri);
    });
    connection.onDidChangeTextDocument((params) => {
      const text = documents.change(params);
      if (text === undefined) return;
      const uri = addresses.inward(params.textDocument.uri);
      workspace.change(uri, text);
      pusher.changed(uri);
    });
    connection.onDidCloseTextDocument(({ textDocument }) => {
      if (!documents.close(textDocument.uri)) return;
      const uri = addresses.inward(textDocument.uri);
      workspace.close(uri);
      pusher.closed(uri);
      addresses.closed(textDocument.uri);
    });
    connection.onDidSaveTextDocument(({ textDocument }) => {
      // not every place that an editor saves to tells of it
      this.disks.asksAgain(addresses.inward(textDocument.uri));
      this.lookAgainUnlessTold();
    });
  }

  private listenToSurroundings(): void {
    const { connection, client, addresses, pusher, settings } = this;
    connection.onInitialized(() => {
      if (client.workspace?.didChangeConfiguration?.dynamicRegistration)
        this.register(DidChangeConfigurationNotification.method, { section: 'thou' });
      if (this.isToldOfFiles)
        this.register(DidChangeWatchedFilesNotification.method, {
          watchers: [{ globPattern: '**/*.thou' }, { globPattern: '**/*.csv' }],
        });
      this.lookAround();
    });
    connection.onDidChangeWatchedFiles(({ changes }) => {
      const happened = changes.map(({ uri, type }) => ({
        uri: addresses.inward(uri),
        isGone: type === FileChangeType.Deleted,
      }));
      this.happened(happened.filter(({ uri }) => !this.disks.asksAgain(uri)));
    });
    connection.onDidChangeConfiguration((change) => {
      settings.changed(change.settings);
      pusher.changedAll();
    });
    connection.onNotification(DidChangeWorkspaceFoldersNotification.type, ({ event }) => {
      for (const { uri } of event.removed) this.folders.delete(this.folder(uri));
      for (const { uri } of event.added) this.folders.add(this.folder(uri));
      this.disks.use([...this.folders]);
      this.lookAround();
    });
  }

  /** What an editor is asked about: a file that it holds, else the folder that it lies in, so that a thousand files ask one question. */
  private scopeOf(uri: string): string {
    if (this.workspace.isOpen(uri)) return this.addresses.outward(uri);
    return [...this.folders].find((folder) => uri.startsWith(`${folder}/`)) ?? uri;
  }

  /** The folders are new: what the editor reads of them is fetched, then everything is looked at. */
  private lookAround(): void {
    const { disks, gathering, pusher, workspace } = this;
    const look = (): void => {
      workspace.forgetDisk();
      workspace.followAll();
    };
    gathering.start(disks.gather(look), () => {
      workspace.forgetDisk();
      pusher.changedAll();
    });
  }

  private happened(changes: readonly { readonly uri: string; readonly isGone: boolean }[]): void {
    const { workspace, pusher } = this;
    // who named a file can no longer be told once it is gone
    const left = changes.flatMap(({ uri, isGone }) => (isGone ? workspace.dependants(uri) : []));
    for (const { uri } of changes) workspace.changedOnDisk(uri);
    if (this.gathering.under) return;
    const closed = changes.map(({ uri }) => uri).filter((uri) => !workspace.isOpen(uri));
    for (const uri of new Set([...closed, ...left])) pusher.changed(uri);
  }

  /** Without a slash at its end. */
  private folder(uri: string): string {
    return this.addresses.inward(uri).replace(/\/+$/, '');
  }

  private get isToldOfFiles(): boolean {
    return this.client.workspace?.didChangeWatchedFiles?.dynamicRegistration === true;
  }

  /** An editor that does not tell what happens on disk: opening and saving are taken as signs. */
  private lookAgainUnlessTold(): void {
    if (this.isToldOfFiles) return;
    this.workspace.forgetDisk();
    this.pusher.changedAll();
  }

  private register(method: string, options: object): void {
    this.connection.client.register({ method } as never, options as never).catch((problem: unknown) => {
      this.connection.console.warn(`The editor did not take ${method}: ${trailOf(problem)}`);
    });
  }
}

function foldersOf({ workspaceFolders, rootUri }: InitializeParams): string[] {
  if (workspaceFolders) return workspaceFolders.map(({ uri }) => uri);
  return rootUri ? [rootUri] : [];
}
