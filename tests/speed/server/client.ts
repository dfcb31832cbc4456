/** The bare protocol to any language server over its standard input and output, with a clock. Knows none of the servers. */
import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';

export interface Diagnostics {
  readonly uri: string;
  readonly version?: number;
  readonly diagnostics: readonly { readonly message: string }[];
}
interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: unknown;
  readonly result?: unknown;
  readonly error?: { readonly message: string };
}

const patience = 120_000;

export class Client {
  readonly process: ChildProcessWithoutNullStreams;
  readonly announced: Promise<string | null>;
  capabilities: Readonly<Record<string, unknown>> = {};
  private readonly answers = new Map<number, (message: Message) => void>();
  private readonly watchers = new Set<(published: Diagnostics) => void>();
  private readonly listeners = new Map<string, (params: unknown) => void>();
  private readonly versions = new Map<string, number>();
  private readonly said = new Map<string, Diagnostics>();
  private received = Buffer.alloc(0);
  private next = 1;

  constructor(command: readonly string[]) {
    this.process = spawn(process.execPath, command, { stdio: 'pipe' });
    // a server that was stopped hears no answer any more
    this.process.stdin.on('error', () => {});
    this.process.stdout.on('data', (piece: Buffer) => this.take(piece));
    this.announced = new Promise((found) => {
      this.process.stderr.on('data', (piece: Buffer) => {
        const address = /ws:\/\/\S+/.exec(piece.toString())?.[0];
        if (address !== undefined) found(address);
      });
      this.process.once('exit', () => found(null));
    });
  }

  async start(folder: string, pull: boolean, initializationOptions: unknown): Promise<void> {
    const result = (await this.request('initialize', {
      processId: process.pid,
      rootUri: folder,
      workspaceFolders: [{ uri: folder, name: 'speed' }],
      initializationOptions,
      capabilities: {
        workspace: { configuration: true, didChangeWatchedFiles: { dynamicRegistration: true } },
        textDocument: {
          publishDiagnostics: { versionSupport: true, relatedInformation: true },
          ...(pull ? { diagnostic: { dynamicRegistration: true } } : {}),
        },
      },
    })) as { readonly capabilities: Readonly<Record<string, unknown>> };
    this.capabilities = result.capabilities;
    this.notify('initialized', {});
  }

  open(uri: string, languageId: string, text: string): void {
    this.versions.set(uri, 1);
    this.notify('textDocument/didOpen', { textDocument: { uri, languageId, version: 1, text } });
  }

  /** Writes over one stretch of a line. */
  edit(uri: string, line: number, from: number, to: number, text: string): void {
    const version = (this.versions.get(uri) ?? 0) + 1;
    this.versions.set(uri, version);
    const range = { start: { line, character: from }, end: { line, character: to } };
    this.notify('textDocument/didChange', { textDocument: { uri, version }, contentChanges: [{ range, text }] });
  }

  /** The next diagnostics of a file that are as wanted; those already there do not count. */
  published(uri: string, wanted: (published: Diagnostics) => boolean): Promise<Diagnostics> {
    return new Promise((found, failed) => {
      const late = setTimeout(
        () => failed(new Error(`nothing as wanted of ${uri}; last: ${this.lastOf(uri)}`)),
        patience,
      );
      const watch = (published: Diagnostics): void => {
        if (published.uri !== uri || !wanted(published)) return;
        clearTimeout(late);
        this.watchers.delete(watch);
        found(published);
      };
      this.watchers.add(watch);
    });
  }

  /** The next notification of that name. */
  told(method: string): Promise<unknown> {
    return new Promise((heard) => {
      this.listeners.set(method, (params) => {
        this.listeners.delete(method);
        heard(params);
      });
    });
  }

  request(method: string, params: unknown): Promise<unknown> {
    const id = this.next++;
    const answer = new Promise((found, failed) => {
      this.answers.set(id, ({ result, error }) =>
        error ? failed(new Error(`${method}: ${error.message}`)) : found(result),
      );
    });
    this.send({ id, method, params });
    return answer;
  }

  notify(method: string, params: unknown): void {
    this.send({ method, params });
  }

  async stop(): Promise<void> {
    const gone = new Promise((exit) => this.process.once('exit', exit));
    this.process.kill('SIGKILL');
    await gone;
  }

  private lastOf(uri: string): string {
    return JSON.stringify(this.said.get(uri) ?? null).slice(0, 600);
  }

  private send(message: object): void {
    const text = JSON.stringify({ jsonrpc: '2.0', ...message });
    this.process.stdin.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
  }

  private take(piece: Buffer): void {
    this.received = Buffer.concat([this.received, piece]);
    for (;;) {
      const head = this.received.indexOf('\r\n\r\n');
      if (head < 0) return;
      const length = Number(/Content-Length: (\d+)/i.exec(this.received.toString('ascii', 0, head))?.[1]);
      const end = head + 4 + length;
      if (this.received.length < end) return;
      const text = this.received.toString('utf8', head + 4, end);
      this.received = this.received.subarray(end);
      this.hear(JSON.parse(text) as Message);
    }
  }

  private hear(message: Message): void {
    if (message.method === undefined) {
      this.answers.get(message.id ?? 0)?.(message);
      this.answers.delete(message.id ?? 0);
    } else if (message.id !== undefined) {
      // what a server asks of its editor: no settings, everything else agreed to
      const items = (message.params as { items?: readonly unknown[] } | null)?.items;
      this.send({ id: message.id, result: items ? items.map(() => null) : null });
    } else if (message.method === 'textDocument/publishDiagnostics') {
      const published = message.params as Diagnostics;
      this.said.set(published.uri, published);
      for (const watch of this.watchers) watch(published);
    } else this.listeners.get(message.method)?.(message.params);
  }
}
