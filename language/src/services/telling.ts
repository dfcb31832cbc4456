// What is told of a file at a time: all that is known, and of builds that are still being worked out what was told of them before.
import type { Diagnostic } from 'vscode-languageserver';
import type { SettingValues } from '@thou/shared/settings';
import type { PlannedLater } from '../semantics/plan/later.ts';
import { countOf, ofText, saidOf, type Reader } from './diagnostics.ts';
import { LastSaid, type Laid } from './last-said.ts';
import type { Workspace } from './workspace.ts';

export class Telling {
  private readonly workspace: Workspace;
  private readonly reader: Reader;
  private readonly settingsOf: (uri: string) => SettingValues;
  private readonly last = new LastSaid();
  /** Builds as they were when all was told. */
  private readonly lastOutcomes = new Map<string, WeakSet<PlannedLater>>();
  /** How many were left out when all was told. */
  private readonly leftOut = new Map<string, number>();

  constructor(workspace: Workspace, reader: Reader, settingsOf: (uri: string) => SettingValues) {
    this.workspace = workspace;
    this.reader = reader;
    this.settingsOf = settingsOf;
  }

  /** What is wrong with the text itself. */
  ofText(uri: string): Diagnostic[] {
    return ofText(this.workspace, uri, this.reader, this.settingsOf(uri));
  }

  diagnosticsOf(uri: string): Diagnostic[] {
    const { outcomes } = this.workspace.result(uri);
    if (outcomes.some(({ isPlanned }) => !isPlanned)) return this.meanwhile(uri, outcomes);
    const { said, more } = saidOf(this.workspace, uri, this.reader, this.settingsOf(uri));
    if (this.workspace.isOpen(uri)) {
      this.last.whole(uri, this.laid(uri), said);
      this.lastOutcomes.set(uri, new WeakSet(outcomes));
      this.leftOut.set(uri, more);
    } else this.forget(uri); // nobody types in it
    return [...said.map(({ diagnostic }) => diagnostic), ...countOf(more)];
  }

  forget(uri: string): void {
    this.last.forget(uri);
    this.lastOutcomes.delete(uri);
    this.leftOut.delete(uri);
  }

  /** Of builds that were worked out since all was told what they say now; of all others what was told then. */
  private meanwhile(uri: string, outcomes: readonly PlannedLater[]): Diagnostic[] {
    const settings = this.settingsOf(uri);
    const told = this.lastOutcomes.get(uri);
    const isNew = (outcome: PlannedLater): boolean => outcome.isPlanned && told?.has(outcome) !== true;
    const since = this.last.since(this.reader.spelled(uri), uri, this.laid(uri));
    const { said } = saidOf(this.workspace, uri, this.reader, settings, { isNew, alike: since.alike });
    const now = said.map(({ diagnostic }) => diagnostic);
    const fresh = new Set(outcomes.flatMap((one) => (isNew(one) ? [one.binding.name] : [])));
    const others = new Set(outcomes.map(({ binding }) => binding.name));
    // what several builds say of one part is said once
    const known = new Set(now.map(wordsOf));
    const before = since
      .of((build) => others.has(build) && !fresh.has(build))
      .filter((diagnostic) => !known.has(wordsOf(diagnostic)));
    return [...[...now, ...before].slice(0, settings['findings.most']), ...countOf(this.leftOut.get(uri) ?? 0)];
  }

  private laid(uri: string): Laid {
    return { text: this.workspace.source(uri)?.text ?? '', positions: this.workspace.positionsOf(uri) };
  }
}

function wordsOf({ range, code, message }: Diagnostic): string {
  return JSON.stringify([range.start, code, message]);
}
