/** How often a server that stopped by itself is started again. Knows no editor and no clock. */
const most = 4;
const within = 3 * 60_000;

export class Crashes {
  private times: number[] = [];

  /** Says whether it may be started again after one more; `now` in milliseconds. */
  oneMore(now: number): boolean {
    this.times = [...this.times.filter((time) => now - time < within), now];
    return this.times.length <= most;
  }

  forget(): void {
    this.times = [];
  }
}
