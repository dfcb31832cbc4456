// What was last said of a file, build by build. While a build is worked out anew, what was said of it stays, and moves with the text.
import type { Diagnostic, Range } from 'vscode-languageserver';
import type { Positions } from '../grammar/file.ts';
import { toOffset, toRange } from './positions.ts';

export interface Said {
  /** The build that it is about; null where it is about the text. */
  readonly build: string | null;
  /** Of a check: which, and what it came to; null of anything else. */
  readonly figures: string | null;
  readonly diagnostic: Diagnostic;
}

/** A text with the places in it. */
export interface Laid {
  readonly text: string;
  readonly positions: Positions;
}

export class LastSaid {
  private readonly byFile = new Map<string, Laid & { readonly said: readonly Said[] }>();

  /** Everything that is to be said: nothing is left to be worked out. */
  whole(uri: string, { text, positions }: Laid, said: readonly Said[]): void {
    this.byFile.set(uri, { text, positions, said });
  }

  /** What was said, where it stands in the text now; what stood on the edited stretch itself is left out. `spelled`: the address in it. */
  since(spelled: string, uri: string, now: Laid): Since {
    const last = this.byFile.get(uri);
    if (!last) return nothingSaid;
    const stretch = editedStretch(last.text, now.text);
    const moved = (range: Range): Range | null => movedRange(range, last.positions, now.positions, stretch);
    return {
      of: (isMeant) =>
        last.said
          .filter(({ build }) => build !== null && isMeant(build))
          .flatMap(({ diagnostic }) => movedDiagnostic(diagnostic, spelled, moved) ?? []),
      alike: (build, figures) => {
        const one = last.said.find((said) => said.figures === figures && said.build === build);
        return one ? movedDiagnostic(one.diagnostic, spelled, moved) : null;
      },
    };
  }

  forget(uri: string): void {
    this.byFile.delete(uri);
  }
}

/** What was said before an edit, as it stands after it. */
export interface Since {
  of(isMeant: (build: string) => boolean): Diagnostic[];
  /** Of the check of that build that came to the same figures. */
  alike(build: string, figures: string): Diagnostic | null;
}

const nothingSaid: Since = { of: () => [], alike: () => null };

interface Stretch {
  readonly start: number;
  /** In the text before. */
  readonly end: number;
  readonly longer: number;
}

/** From the first to the last character that differs. */
function editedStretch(before: string, after: string): Stretch {
  const shorter = Math.min(before.length, after.length);
  let start = 0;
  while (start < shorter && before.charCodeAt(start) === after.charCodeAt(start)) start++;
  let same = 0;
  while (
    same < shorter - start &&
    before.charCodeAt(before.length - 1 - same) === after.charCodeAt(after.length - 1 - same)
  )
    same++;
  return { start, end: before.length - same, longer: after.length - before.length };
}

/** Null where the stretch cuts into it. */
function movedRange(range: Range, before: Positions, now: Positions, { start, end, longer }: Stretch): Range | null {
  const [from, to] = [toOffset(before, range.start), toOffset(before, range.end)];
  if (to < start) return range;
  if (from >= end) return toRange(now, { start: from + longer, end: to + longer });
  return from < start && to >= end ? toRange(now, { start: from, end: to + longer }) : null;
}

function movedDiagnostic(
  diagnostic: Diagnostic,
  uri: string,
  moved: (range: Range) => Range | null,
): Diagnostic | null {
  const range = moved(diagnostic.range);
  if (range === null) return null;
  const { relatedInformation: related } = diagnostic;
  if (!related) return { ...diagnostic, range };
  const relatedInformation = related.flatMap(({ message, location }) => {
    const at = location.uri === uri ? moved(location.range) : location.range;
    return at === null ? [] : [{ message, location: { ...location, range: at } }];
  });
  return { ...diagnostic, range, relatedInformation };
}
