// What is told of a file at a time: all that is known, and of builds that are still being worked out what was told of them before.
import type { Diagnostic } from 'vscode-languageserver';
import type { SettingValues } from '@thou/shared/settings';
import { countOf, ofText, saidOf, type Reader } from './diagnostics.ts';
import { LastSaid, type Laid } from './last-said.ts';
import type { Workspace } from './workspace.ts';

export class Telling {
  private readonly workspace: Workspace;
  private readonly reader: Reader;
  private readonly settingsOf: (uri: string) => SettingValues;
  private readonly last = new LastSaid();
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
    const { said, more } = saidOf(this.workspace, uri, this.reader, this.settingsOf(uri));
    const now = said.map(({ diagnostic }) => diagnostic);
    const left = this.openBuilds(uri);
    if (left.size > 0) return [...now, ...this.toldBefore(uri, left, now), ...countOf(this.leftOut.get(uri) ?? 0)];
    this.last.whole(uri, this.laid(uri), said);
    this.leftOut.set(uri, more);
    return [...now, ...countOf(more)];
  }

  forget(uri: string): void {
    this.last.forget(uri);
    this.leftOut.delete(uri);
  }

  /** What several builds say of one part is said once. */
  private toldBefore(uri: string, builds: ReadonlySet<string>, now: readonly Diagnostic[]): Diagnostic[] {
    const known = new Set(now.map(wordsOf));
    const before = this.last.of(this.reader.spelled(uri), uri, this.laid(uri), builds);
    return before.filter((diagnostic) => !known.has(wordsOf(diagnostic)));
  }

  private openBuilds(uri: string): ReadonlySet<string> {
    const { outcomes } = this.workspace.result(uri);
    return new Set(outcomes.flatMap(({ isPlanned, binding }) => (isPlanned ? [] : [binding.name])));
  }

  private laid(uri: string): Laid {
    return { text: this.workspace.source(uri)?.text ?? '', positions: this.workspace.positionsOf(uri) };
  }
}

function wordsOf({ range, code, message }: Diagnostic): string {
  return JSON.stringify([range.start, code, message]);
}
