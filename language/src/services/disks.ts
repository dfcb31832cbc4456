// The files of all folders: those that the server reaches where it runs, and those that the editor reads for it.
import { listFilesMethod, readFileMethod, type ListFilesAsked, type ReadFileAsked } from '@thou/shared/protocol';
import type { Connection } from 'vscode-languageserver';
import { ClientDisk, type Arrived, type FileReader } from './client-disk.ts';
import type { Environment } from './environment.ts';
import type { Disk } from './workspace.ts';

export class Disks implements Disk {
  private readonly environment: Pick<Environment, 'disk' | 'reaches'>;
  private readonly reader: FileReader | null;
  private readonly arrived: Arrived;
  private own: Disk;
  private throughEditor: ClientDisk | null = null;

  /** `reader`: null for an editor that reads no files. `arrived` is told of each file that it read. */
  constructor(environment: Pick<Environment, 'disk' | 'reaches'>, reader: FileReader | null, arrived: Arrived) {
    this.environment = environment;
    this.reader = reader;
    this.arrived = arrived;
    this.own = environment.disk([]);
  }

  /** From now on these folders; what the editor reads is there after `gather`. */
  use(folders: readonly string[]): void {
    const reached = folders.filter((uri) => this.reader === null || this.environment.reaches(uri));
    this.own = this.environment.disk(reached);
    this.throughEditor?.stop();
    const others = folders.filter((uri) => !reached.includes(uri));
    this.throughEditor = this.reader && new ClientDisk(others, this.reader, this.arrived);
  }

  /** Fetches what the files of the folders lead to; `look` follows what they name. Null where the editor reads no folder. */
  gather(look: () => void): Promise<void> | null {
    return this.throughEditor?.hasFolders === true ? gathered(this.throughEditor, look) : null;
  }

  /** True where the editor is asked anew, and `arrived` is told later. */
  asksAgain(uri: string): boolean {
    if (!this.throughEditor || this.of(uri) !== this.throughEditor) return false;
    this.throughEditor.changed(uri);
    return true;
  }

  read(uri: string): string | undefined {
    return this.of(uri).read(uri);
  }

  resolve(from: string, path: string): ReturnType<Disk['resolve']> {
    return this.of(from).resolve(from, path);
  }

  list(): readonly string[] {
    return [...this.own.list(), ...(this.throughEditor?.list() ?? [])];
  }

  tables(): readonly string[] {
    return [...this.own.tables(), ...(this.throughEditor?.tables() ?? [])];
  }

  /** A text that was never saved lies nowhere. */
  private of(uri: string): Disk {
    return this.throughEditor && !this.environment.reaches(uri) && !uri.startsWith('untitled:')
      ? this.throughEditor
      : this.own;
  }
}

async function gathered(disk: ClientDisk, look: () => void): Promise<void> {
  await disk.lookAround();
  do look();
  while (await disk.settled());
}

export function readerOf(connection: Connection): FileReader {
  return {
    list: (folder) => {
      const asked: ListFilesAsked = { folder };
      return connection.sendRequest(listFilesMethod, asked);
    },
    read: (uri, mostBytes) => {
      const asked: ReadFileAsked = { uri, mostBytes };
      return connection.sendRequest(readFileMethod, asked);
    },
  };
}
