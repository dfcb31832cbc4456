// The editor's settings of Thou, asked for each file when first needed and kept until the editor says that they changed.
import type { ClientCapabilities, Connection } from 'vscode-languageserver';

export type Values = Readonly<Record<string, unknown>>;

const section = 'thou';

export class Settings {
  private readonly connection: Pick<Connection, 'workspace'>;
  private readonly canAsk: boolean;
  private readonly asked = new Map<string, Promise<Values>>();
  private told: Values;

  /** `told`: what the editor said at the start, for one that cannot be asked. */
  constructor(connection: Pick<Connection, 'workspace'>, client: ClientCapabilities, told: unknown) {
    this.connection = connection;
    this.canAsk = client.workspace?.configuration === true;
    this.told = record(told);
  }

  /** As they hold for a file: a folder may have its own. */
  of(uri: string): Promise<Values> {
    if (!this.canAsk) return Promise.resolve(this.told);
    const known = this.asked.get(uri);
    if (known) return known;
    const answer = this.connection.workspace.getConfiguration({ scopeUri: uri, section }).then(record, () => {
      this.asked.delete(uri);
      return {};
    });
    this.asked.set(uri, answer);
    return answer;
  }

  changed(settings: unknown): void {
    this.asked.clear();
    const own = record(settings)[section];
    if (own !== undefined) this.told = record(own);
  }
}

function record(value: unknown): Values {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Values) : {};
}
