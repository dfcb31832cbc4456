/** What an unsure figure is in trial after trial: every source draws from a stream of its own, whoever else is asked about. */
import { overridesOf } from '../plan/overrides.ts';
import type { FigureAt, Override } from '../plan/overrides.ts';
import type { Source, UnsureCell } from '../plan/unsure.ts';
import { Generator } from './generator.ts';
import { normalQuantile } from './normal.ts';

/** A tolerance, a smallest step, a difference in warmth: anywhere between the ends alike. A certificate, a ± that was read, a mean: normal. */
function isNormal({ sort }: Source): boolean {
  return sort === 'stated' || sort === 'instrument' || sort === 'repeats';
}

/** One figure of a slot, and the sources that move it. */
export interface DrawnCell extends FigureAt {
  readonly middle: number;
  /** Places among the sources. */
  readonly movedBy: readonly number[];
}

/** The cells that any of the sources moves, each once. */
function drawnCells(sources: readonly Source[]): readonly DrawnCell[] {
  const cells = new Map<UnsureCell, DrawnCell & { readonly movedBy: number[] }>();
  sources.forEach((source, place) => {
    for (const cell of source.cells) {
      const known = cells.get(cell) ?? { ...cell, movedBy: [] };
      known.movedBy.push(place);
      cells.set(cell, known);
    }
  });
  return [...cells.values()];
}

/** Streams of all sources under one seed, drawn from in blocks of trials. */
export class Draws {
  readonly sources: readonly Source[];
  readonly cells: readonly DrawnCell[];
  private readonly streams: readonly Generator[];

  constructor(sources: readonly Source[], seed: number) {
    this.sources = sources;
    this.cells = drawnCells(sources);
    this.streams = sources.map(({ id }) => Generator.of(seed, id));
  }

  /** What each drawn cell is in the next trials, one column a cell. */
  next(trials: number): readonly Float64Array[] {
    const moved = this.sources.map((source, at) => drawn(source, this.streams[at]!, trials));
    return this.cells.map(({ middle, movedBy }) => {
      const column = new Float64Array(trials).fill(middle);
      for (const place of movedBy) {
        const by = moved[place]!;
        for (let trial = 0; trial < trials; trial++) column[trial]! += by[trial]!;
      }
      return column;
    });
  }

  /** The columns as figures in the place of those of the plan. */
  overrides(columns: readonly Float64Array[]): readonly Override[] {
    return overridesOf(this.cells.map((cell, at) => [cell, columns[at]!]));
  }
}

function drawn(source: Source, stream: Generator, trials: number): Float64Array {
  const by = new Float64Array(trials);
  const { half } = source;
  if (isNormal(source)) {
    const deviation = half * source.deviation;
    for (let trial = 0; trial < trials; trial++) by[trial] = deviation * normalQuantile(stream.fraction());
  } else for (let trial = 0; trial < trials; trial++) by[trial] = half * (2 * stream.fraction() - 1);
  return by;
}
