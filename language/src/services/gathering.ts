// Holds back what would be said while the editor reads the files of the folders: it would be of half of them. Not for ever: an editor may never answer.
import type { Environment } from './environment.ts';

type Later = Environment['later'];

/** In milliseconds. What comes after it is told of file by file. */
const patience = 15_000;

export class Gathering {
  private readonly soon: Later;
  private work: Promise<void> | null = null;
  private release: (() => void) | null = null;
  private takeBack: (() => void) | null = null;
  private turn = 0;

  constructor(soon: Later) {
    this.soon = soon;
  }

  /** What is waited for; null when all is there. */
  get under(): Promise<void> | null {
    return this.work;
  }

  /** `reading` takes the place of what was waited for before; `then` runs at once where there is nothing to wait for. */
  start(reading: Promise<void> | null, then: () => void): void {
    const turn = ++this.turn;
    this.takeBack?.();
    if (!reading) return this.finish(then);
    this.work ??= new Promise((done) => (this.release = done));
    const ready = (): void => {
      if (turn === this.turn && this.work) this.finish(then);
    };
    this.takeBack = this.soon(ready, patience);
    // what could be read is looked at, also where reading failed
    void reading.then(ready, ready);
  }

  /** As the environment's `later`, counted from when all is there. */
  later(work: () => void, milliseconds?: number): () => void {
    if (!this.work) return this.soon(work, milliseconds);
    let takeBack: (() => void) | null = null;
    let isOff = false;
    void this.work.then(() => {
      if (!isOff) takeBack = this.later(work, milliseconds);
    });
    return () => {
      isOff = true;
      takeBack?.();
    };
  }

  private finish(then: () => void): void {
    this.takeBack?.();
    this.takeBack = null;
    this.work = null;
    then();
    this.release?.();
    this.release = null;
  }
}
