// Texts that were made once and still hold: as long as every place that they name stands where it stood.
import type { Place } from '@thou/shared/result/contract';
import type { Origin } from '../semantics/schema/schema.ts';
import type { Files } from './place.ts';

interface Made {
  readonly text: string;
  readonly places: readonly { readonly origin: Origin | null; readonly place: Place | null }[];
}

export class Remembered<About extends object> {
  private readonly made = new WeakMap<About, Made>();

  /** What was made about it before, or what `make` makes of it now; `make` finds places through what it is handed. */
  of(about: About, files: Files, make: (files: Files) => string): string {
    const known = this.made.get(about);
    if (known?.places.every(({ origin, place }) => isSame(place, files.placeOf(origin)))) return known.text;
    const places: Made['places'][number][] = [];
    const text = make({
      nameOf: (uri) => files.nameOf(uri),
      placeOf: (origin) => {
        const place = files.placeOf(origin);
        places.push({ origin, place });
        return place;
      },
    });
    this.made.set(about, { text, places });
    return text;
  }
}

function isSame(a: Place | null, b: Place | null): boolean {
  return a === null || b === null ? a === b : a.file === b.file && a.line === b.line;
}
