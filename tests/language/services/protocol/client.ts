/** An editor over a real process: `thou serve --stdio` with its streams, folders of its own, and what it was sent. */
import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { AskedAtStart } from '@thou/shared/protocol';
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  type ClientCapabilities,
  type InitializeResult,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver-protocol/node';

export const top = fileURLToPath(new URL('../../../../', import.meta.url));

/** What a modern editor says of itself. */
export const modern: ClientCapabilities = {
  workspace: {
    configuration: true,
    workspaceFolders: true,
    didChangeConfiguration: { dynamicRegistration: true },
    didChangeWatchedFiles: { dynamicRegistration: true },
    semanticTokens: { refreshSupport: true },
  },
  textDocument: {
    publishDiagnostics: {
      relatedInformation: true,
      versionSupport: true,
      codeDescriptionSupport: true,
      tagSupport: { valueSet: [1, 2] },
    },
  },
};

export interface StartOptions {
  readonly files?: Readonly<Record<string, string>>;
  readonly capabilities?: ClientCapabilities;
  /** Names of folders below the one of the test; the whole of it where none is named, none at all for `[]`. */
  readonly folders?: readonly string[];
  readonly settings?: (scope: string | undefined) => unknown;
  /** What is asked beyond the protocol. */
  readonly asked?: AskedAtStart;
  /** Flags of the program that runs the server. */
  readonly runWith?: readonly string[];
}

export class Editor {
  readonly folder: string;
  readonly process: ChildProcessWithoutNullStreams;
  readonly connection: ProtocolConnection;
  readonly told: PublishDiagnosticsParams[] = [];
  readonly registered: { readonly method: string; readonly registerOptions?: unknown }[] = [];
  readonly asked: (string | undefined)[] = [];
  readonly ended: Promise<number | null>;
  result!: InitializeResult;
  errors = '';
  private readonly waiting = new Set<() => void>();
  private readonly versions = new Map<string, number>();

  private constructor({ files = {}, runWith = [] }: StartOptions) {
    this.folder = realpathSync(mkdtempSync(join(tmpdir(), 'thou-editor-')));
    for (const [name, text] of Object.entries(files)) this.write(name, text);
    this.process = spawn(process.execPath, [...runWith, join(top, 'language/bin/thou.js'), 'serve', '--stdio'], {
      cwd: this.folder,
    });
    this.process.stderr.on('data', (piece: Buffer) => (this.errors += piece.toString()));
    this.ended = new Promise((done) => this.process.once('exit', done));
    this.connection = createProtocolConnection(
      new StreamMessageReader(this.process.stdout),
      new StreamMessageWriter(this.process.stdin),
    );
  }

  static async start(options: StartOptions = {}): Promise<Editor> {
    const editor = new Editor(options);
    const { connection } = editor;
    connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
      editor.told.push(params);
      for (const look of new Set(editor.waiting)) look();
    });
    connection.onRequest('client/registerCapability', (params: { registrations: Editor['registered'] }) => {
      editor.registered.push(...params.registrations);
      return null;
    });
    connection.onRequest('workspace/configuration', ({ items }: { items: { scopeUri?: string }[] }) =>
      items.map(({ scopeUri }) => {
        editor.asked.push(scopeUri);
        return options.settings?.(scopeUri) ?? null;
      }),
    );
    connection.listen();
    const folders = options.folders?.map((name) => editor.uri(name)) ?? [pathToFileURL(editor.folder).href];
    editor.result = await connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: null,
      capabilities: options.capabilities ?? modern,
      workspaceFolders: folders.map((uri) => ({ uri, name: uri })),
      ...(options.asked ? { initializationOptions: options.asked } : {}),
    });
    await connection.sendNotification('initialized', {});
    return editor;
  }

  uri(name: string): string {
    return pathToFileURL(join(this.folder, name)).href;
  }

  write(name: string, text: string): void {
    const path = join(this.folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
  }

  async open(uri: string, text: string, version = 1): Promise<void> {
    this.versions.set(uri, version);
    await this.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId: 'thou', version, text },
    });
  }

  /** The version after the edit. */
  async change(uri: string, ...contentChanges: TextDocumentContentChangeEvent[]): Promise<number> {
    const version = (this.versions.get(uri) ?? 0) + 1;
    this.versions.set(uri, version);
    await this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges,
    });
    return version;
  }

  async close(uri: string): Promise<void> {
    await this.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
  }

  /** 1 made, 2 changed, 3 deleted. */
  async happened(name: string, type: 1 | 2 | 3): Promise<void> {
    await this.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: this.uri(name), type }],
    });
  }

  /** What was last said of a file. */
  last(uri: string): PublishDiagnosticsParams | undefined {
    return this.told.filter((one) => one.uri === uri).at(-1);
  }

  codes(uri: string): unknown[] {
    return (this.last(uri)?.diagnostics ?? []).map(({ code }) => code);
  }

  /** The first notice after now, or from `since` on, that is as asked; a failure names what came instead. */
  until(
    uri: string,
    isIt: (told: PublishDiagnosticsParams) => boolean,
    since = this.told.length,
  ): Promise<PublishDiagnosticsParams> {
    return new Promise((done, failed) => {
      const timer = setTimeout(() => {
        this.waiting.delete(look);
        failed(new Error(`nothing came: ${JSON.stringify(this.told.slice(since), null, 1)}\n${this.errors}`));
      }, 20_000);
      const look = (): void => {
        const found = this.told.slice(since).find((one) => one.uri === uri && isIt(one));
        if (!found) return;
        this.waiting.delete(look);
        clearTimeout(timer);
        done(found);
      };
      this.waiting.add(look);
      look();
    });
  }

  /** Says goodbye as an editor should; the exit code. */
  async stop(): Promise<number | null> {
    await this.connection.sendRequest('shutdown');
    await this.connection.sendNotification('exit');
    const code = await this.ended;
    this.tidy();
    return code;
  }

  tidy(): void {
    this.connection.dispose();
    this.process.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
