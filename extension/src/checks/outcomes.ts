/** How the checks of files stand, asked of the server when somebody looks and kept until it says something new of the file. */
import { standingMethod, type BuildTold, type StandingAsked } from '@thou/shared/protocol-checks';
import { Disposable, EventEmitter } from 'vscode';
import type { Server } from '../server.ts';

/** In milliseconds. */
const rest = 250;

export class Outcomes {
  private readonly server: Server;
  private readonly kept = new Map<string, Promise<readonly BuildTold[]>>();
  private readonly changed = new EventEmitter<string>();
  private readonly timers = new Map<string, ReturnType<typeof setTimeout>>();
  private readonly listener: Disposable;
  /** The address of a file that stands otherwise now. */
  readonly onChanged = this.changed.event;

  constructor(server: Server) {
    this.server = server;
    this.listener = server.onSaid((uri) => this.forgetSoon(uri));
  }

  of(uri: string): Promise<readonly BuildTold[]> {
    const known = this.kept.get(uri);
    if (known) return known;
    const asked: StandingAsked = { textDocument: { uri } };
    const answer = this.server.ask<readonly BuildTold[]>(standingMethod, asked).then((told) => told ?? []);
    this.kept.set(uri, answer);
    return answer;
  }

  /** Not while somebody is typing. */
  private forgetSoon(uri: string): void {
    clearTimeout(this.timers.get(uri));
    this.timers.set(
      uri,
      setTimeout(() => this.forget(uri), rest),
    );
  }

  forget(uri: string): void {
    clearTimeout(this.timers.get(uri));
    this.timers.delete(uri);
    this.kept.delete(uri);
    this.changed.fire(uri);
  }

  dispose(): void {
    for (const timer of this.timers.values()) clearTimeout(timer);
    this.listener.dispose();
    this.changed.dispose();
  }
}
