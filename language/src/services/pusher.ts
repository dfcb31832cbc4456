// When which file is looked at again, and what of it is sent: the one that was edited first, then those that show, the others when it is quiet.
// Between two files the editor's messages are let in, and an edit puts its own file in front.
import type { Diagnostic } from 'vscode-languageserver';
import type { Workspace } from './workspace.ts';

export interface Outlet {
  /** What is left to do before everything can be said of the file. */
  pieces(uri: string): readonly (() => void)[];
  /** What is wrong with the text itself: known before anything it rests on is read. */
  glance(uri: string): Diagnostic[];
  /** What can be said of it now. */
  look(uri: string): Diagnostic[];
  /** Sends; `version` is that of the open document. */
  publish(uri: string, diagnostics: Diagnostic[], version: number | undefined): void;
  /** All that is to be said of the file was sent. */
  said(uri: string): void;
  versionOf(uri: string): number | undefined;
  /** All that shows is said; `others`: beside the edited file another one was touched. */
  settled(others: boolean): void;
  failed(uri: string, problem: unknown): void;
  later(work: () => void, milliseconds?: number): () => void;
}

/** Files that no editor shows wait for so long without an edit or a question. */
const quiet = 200;
/** So long the rest waits after the first answer to an edit: who goes on typing is not kept waiting by what the next letter overtakes. */
const breath = 40;

export class Pusher {
  private readonly workspace: Workspace;
  private readonly outlet: Outlet;
  /** Edited, and what rests on it not yet looked for. */
  private readonly edited = new Set<string>();
  private readonly showing = new Set<string>();
  private readonly unseen = new Set<string>();
  /** What was last said, so that nothing is said twice. */
  private readonly said = new Map<string, string>();
  /** A new version is answered even where nothing else is to be said of it. */
  private readonly due = new Set<string>();
  /** Open files, the one last touched at the end. */
  private readonly recent = new Set<string>();
  /** How many pieces of a file were done that is not said yet. */
  private readonly begun = new Map<string, number>();
  /** Something else than all was said last. */
  private readonly partly = new Set<string>();
  /** Open files whose text was looked at by itself. */
  private readonly glanced = new Set<string>();
  private running = false;
  /** An edit was just answered as far as is known. */
  private answered = false;
  private others = false;
  private wake: (() => void) | null = null;
  private stopped = false;

  constructor(workspace: Workspace, outlet: Outlet) {
    this.workspace = workspace;
    this.outlet = outlet;
  }

  /** A text changed, wherever it lies. */
  changed(uri: string): void {
    this.edited.add(uri);
    this.begun.delete(uri);
    if (this.workspace.isOpen(uri)) {
      this.touched(uri);
      this.showing.add(uri);
      this.due.add(uri);
    } else this.others = true;
    this.start();
  }

  /** Nobody knows what changed: all files are looked at. */
  changedAll(): void {
    this.others = true;
    for (const uri of this.workspace.known()) this.put(uri);
    for (const uri of this.said.keys()) if (!this.workspace.isKnown(uri)) this.clear(uri);
    this.start();
  }

  /** The editor let go of a file: it stays among the others where its folder is open, else nothing is said of it any more. */
  closed(uri: string): void {
    this.recent.delete(uri);
    this.showing.delete(uri);
    this.glanced.delete(uri);
    if (!this.workspace.isKnown(uri)) this.clear(uri);
    this.changed(uri);
  }

  /** A request named it: the reader looks at it now, and no file that nobody sees comes between the pieces of the answer. */
  touched(uri: string): void {
    this.recent.delete(uri);
    this.recent.add(uri);
    // what shows is never held back: only what nobody sees waits for quiet
    if (this.wake && this.showing.size === 0 && !this.stopped) this.waitForQuiet();
  }

  stop(): void {
    this.stopped = true;
    this.wake?.();
  }

  private clear(uri: string): void {
    if (this.said.has(uri) || this.partly.has(uri)) this.outlet.publish(uri, [], undefined);
    this.said.delete(uri);
    this.partly.delete(uri);
    this.begun.delete(uri);
    this.due.delete(uri);
    this.unseen.delete(uri);
  }

  private put(uri: string): void {
    if (this.workspace.isOpen(uri)) this.showing.add(uri);
    else if (!this.workspace.isOfLibrary(uri)) this.unseen.add(uri);
  }

  private start(): void {
    this.wake?.();
    this.wake = null;
    if (this.running || this.stopped) return;
    this.running = true;
    this.outlet.later(() => this.step());
  }

  /** One file at a time, and one piece of it; then the messages that came meanwhile. */
  private step(): void {
    if (this.stopped) return;
    const uri = [...this.recent].reverse().find((one) => this.showing.has(one)) ?? first(this.showing);
    if (uri !== undefined) {
      if (!this.saysAtAGlance(uri) && this.isReady(uri, true)) {
        this.showing.delete(uri);
        this.say(uri);
      }
      if (this.answered) return this.takeBreath();
    } else if (this.edited.size > 0) this.spread();
    else return this.rest();
    this.outlet.later(() => this.step());
  }

  private takeBreath(): void {
    this.answered = false;
    this.running = false;
    this.wake = this.outlet.later(() => this.start(), breath);
  }

  /**
   * Does one piece of what is left; true where nothing was. What is first heard of a file is said while the rest is done, and so is what is
   * heard first after an edit.
   */
  private isReady(uri: string, shows: boolean): boolean {
    try {
      const [piece, ...others] = this.outlet.pieces(uri);
      if (piece === undefined) return true;
      piece();
      if (others.length === 0) return true;
      const done = (this.begun.get(uri) ?? 0) + 1;
      this.begun.set(uri, done);
      // ever more rarely: what is said is laid out anew each time
      const isAnswer = this.said.has(uri) && shows && done === 1;
      if (isAnswer || (!this.said.has(uri) && Number.isInteger(Math.log2(done))))
        this.sayMeanwhile(uri, this.outlet.look(uri));
      this.answered = isAnswer;
      return false;
    } catch (problem) {
      this.outlet.failed(uri, problem);
      this.showing.delete(uri);
      this.unseen.delete(uri);
      return false;
    }
  }

  /** What rests on the edited files is to be looked at as well. */
  private spread(): void {
    const edited = [...this.edited];
    this.edited.clear();
    try {
      for (const uri of edited) {
        if (!this.workspace.isOpen(uri)) this.reconsider(uri);
        for (const one of this.workspace.dependants(uri)) {
          if (this.workspace.isOpen(one)) this.others = true;
          this.put(one);
        }
      }
    } catch (problem) {
      this.outlet.failed(edited.join(' '), problem);
    }
  }

  /** A file on disk that changed, came or went. */
  private reconsider(uri: string): void {
    if (this.workspace.isKnown(uri)) this.put(uri);
    else this.clear(uri);
  }

  private rest(): void {
    this.running = false;
    const others = this.others;
    this.others = false;
    this.outlet.settled(others);
    if (this.unseen.size > 0) this.waitForQuiet();
  }

  private waitForQuiet(): void {
    this.wake?.();
    this.wake = this.outlet.later(() => this.nextUnseen(), quiet);
  }

  private nextUnseen(): void {
    this.wake = null;
    const uri = first(this.unseen);
    if (uri === undefined || this.stopped) return;
    if (!this.workspace.isKnown(uri)) this.unseen.delete(uri);
    else if (this.isReady(uri, false)) {
      this.unseen.delete(uri);
      this.say(uri);
    }
    this.wake = this.outlet.later(() => this.nextUnseen());
  }

  /** A file that was just opened: slips in the text need not wait for its meaning. True where there were some. */
  private saysAtAGlance(uri: string): boolean {
    if (this.glanced.has(uri) || this.said.has(uri)) return false;
    this.glanced.add(uri);
    try {
      const slips = this.outlet.glance(uri);
      if (slips.length > 0) this.sayMeanwhile(uri, slips);
      return slips.length > 0;
    } catch (problem) {
      this.outlet.failed(uri, problem);
      return false;
    }
  }

  private sayMeanwhile(uri: string, diagnostics: Diagnostic[]): void {
    this.partly.add(uri);
    this.publish(uri, diagnostics);
  }

  private say(uri: string): void {
    try {
      this.begun.delete(uri);
      const diagnostics = this.outlet.look(uri);
      const now = JSON.stringify(diagnostics);
      const isDue = [this.due.delete(uri), this.partly.delete(uri)].includes(true);
      if (!isDue && now === (this.said.get(uri) ?? '[]')) return;
      this.said.set(uri, now);
      this.publish(uri, diagnostics);
      this.outlet.said(uri);
    } catch (problem) {
      this.outlet.failed(uri, problem);
    }
  }

  private publish(uri: string, diagnostics: Diagnostic[]): void {
    this.outlet.publish(uri, diagnostics, this.outlet.versionOf(uri));
  }
}

function first(set: ReadonlySet<string>): string | undefined {
  for (const one of set) return one;
  return undefined;
}
