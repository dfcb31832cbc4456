/** What of a block has its message already: one mistake, one message. Knows stretches of text and lines only. */
import type { TextProblem } from './problem.ts';
import { positions, type Positions } from './positions.ts';

export class Told {
  private readonly stretches: { readonly start: number; readonly end: number }[] = [];
  private readonly text: string;
  private readonly first: readonly TextProblem[];
  private places: Positions | null = null;
  private readonly lines = new Set<number>();

  /** `first`: slips and mended brackets, which often spoil what else stands on their line. */
  constructor(text: string, first: readonly TextProblem[]) {
    this.text = text;
    this.first = first;
  }

  /** True where nothing was said yet about this stretch of text; from now on something is. */
  adds(start: number, end: number): boolean {
    const known = this.stretches.some((one) => one.start <= end && one.end >= start) || this.onToldLine(start, end);
    this.stretches.push({ start, end });
    return !known;
  }

  private onToldLine(start: number, end: number): boolean {
    if (this.first.length === 0) return false;
    const places = (this.places ??= this.findLines());
    for (let line = places.at(start).line; line <= places.at(end).line; line += 1)
      if (this.lines.has(line)) return true;
    return false;
  }

  private findLines(): Positions {
    const places = positions(this.text);
    for (const problem of this.first) {
      for (let line = places.at(problem.start).line; line <= places.at(problem.end).line; line += 1)
        this.lines.add(line);
    }
    return places;
  }
}
