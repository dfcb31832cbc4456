// The editor's settings of Thou, asked for each file when first needed and kept until the editor says that they changed.
import { settingsIn, type SettingValues } from '@thou/shared/settings';
import type { ClientCapabilities, Connection } from 'vscode-languageserver';

type Values = Readonly<Record<string, unknown>>;

const section = 'thou';

export class Settings {
  private readonly connection: Pick<Connection, 'workspace'>;
  private readonly canAsk: boolean;
  private readonly heard: (uri: string) => void;
  private readonly asked = new Map<string, Promise<SettingValues>>();
  private readonly known = new Map<string, SettingValues>();
  private told: Values;

  /** `told`: what the editor said at the start, for one that cannot be asked; `heard`: they are others than was thought. */
  constructor(
    connection: Pick<Connection, 'workspace'>,
    client: ClientCapabilities,
    told: unknown,
    heard: (uri: string) => void = () => undefined,
  ) {
    this.heard = heard;
    this.connection = connection;
    this.canAsk = client.workspace?.configuration === true;
    this.told = record(told);
  }

  /** As they hold for a file: a folder may have its own. */
  of(uri: string): Promise<SettingValues> {
    if (!this.canAsk) return Promise.resolve(settingsIn(this.told));
    const asked = this.asked.get(uri);
    if (asked) return asked;
    const answer: Promise<SettingValues> = this.connection.workspace.getConfiguration({ scopeUri: uri, section }).then(
      (told: unknown) => this.keep(uri, answer, settingsIn(record(told))),
      () => {
        this.asked.delete(uri);
        return settingsIn({});
      },
    );
    this.asked.set(uri, answer);
    return answer;
  }

  /** Without waiting: as they were last heard of, and asked for where nothing was heard since they changed. */
  now(uri: string): SettingValues {
    if (!this.canAsk) return settingsIn(this.told);
    if (!this.asked.has(uri)) void this.of(uri);
    return this.known.get(uri) ?? settingsIn({});
  }

  /** What was asked for before a change is not kept over what was asked for after it. */
  private keep(uri: string, answer: Promise<SettingValues>, values: SettingValues): SettingValues {
    if (this.asked.get(uri) !== answer) return values;
    const before = JSON.stringify(this.known.get(uri) ?? settingsIn({}));
    this.known.set(uri, values);
    if (JSON.stringify(values) !== before) this.heard(uri);
    return values;
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
