// Holds back what would be said while the editor reads the files of the folders: it would be of half of them.
import type { Environment } from './environment.ts';

type Later = Environment['later'];

export class Gathering {
  private readonly soon: Later;
  private work: Promise<void> | null = null;

  constructor(soon: Later) {
    this.soon = soon;
  }

  /** What is waited for; null when all is there. */
  get under(): Promise<void> | null {
    return this.work;
  }

  /** `reading` takes the place of what was waited for before; `then` runs at once where there is nothing to wait for. */
  start(reading: Promise<void> | null, then: () => void): void {
    const ready = (): void => {
      if (this.work !== work) return;
      this.work = null;
      then();
    };
    // what could be read is looked at, also where reading failed
    const work = reading?.then(ready, ready);
    this.work = work ?? null;
    if (!work) then();
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
}
