// Who names whom: the words of every declaration as they were understood, led back to the declarations that they stand for.
import type { AstNode } from 'langium';
import { isWritten, rangeOf, sourceText, type Range } from '../../grammar/file.ts';
import type { Names, Noted, Thing } from '../../semantics/problems/names.ts';
import type { Piece } from './model.ts';

interface Word extends Range {
  readonly to: string;
}

export class Links {
  private readonly ids: ReadonlyMap<AstNode, string>;
  private readonly words = new Map<AstNode, Map<number, Word>>();
  private readonly from = new Map<string, Set<string>>();
  private readonly back = new Map<string, Set<string>>();

  /** `ids`: what each declaration is called in the manual. */
  constructor(ids: ReadonlyMap<AstNode, string>, names: readonly Names[]) {
    this.ids = ids;
    for (const noted of names.flatMap((one) => one.all())) this.take(noted);
  }

  uses(id: string): readonly string[] {
    return [...(this.from.get(id) ?? [])];
  }

  usedBy(id: string): readonly string[] {
    return [...(this.back.get(id) ?? [])];
  }

  /** The words of a piece of text, parted where one names an entry; further lines as far in as they stand behind the first. */
  pieces(node: AstNode): Piece[] {
    const { start, end } = rangeOf(node);
    const text = sourceText(node);
    const declared = this.declarationOf(node);
    const inside = [...(declared ? (this.words.get(declared)?.values() ?? []) : [])]
      .filter((word) => word.start >= start && word.end <= end)
      .sort((a, b) => a.start - b.start);
    const pieces: Piece[] = [];
    let at = start;
    for (const word of inside) {
      if (word.start < at) continue;
      pieces.push({ text: text.slice(at - start, word.start - start), to: null });
      pieces.push({ text: text.slice(word.start - start, word.end - start), to: word.to });
      at = word.end;
    }
    pieces.push({ text: text.slice(at - start), to: null });
    return outdented(
      pieces.filter((piece) => piece.text !== ''),
      text,
    );
  }

  private take({ at, thing }: Noted): void {
    const behind = declarationBehind(thing);
    const to = behind ? this.ids.get(behind) : undefined;
    const declared = this.declarationOf(at.at);
    const own = declared ? this.ids.get(declared) : undefined;
    if (!declared || to === undefined || own === undefined || to === own) return;
    this.from.set(own, (this.from.get(own) ?? new Set()).add(to));
    this.back.set(to, (this.back.get(to) ?? new Set()).add(own));
    if (at.property === undefined || !isWritten(at.at)) return;
    const range = rangeOf({
      node: at.at,
      property: at.property,
      ...(at.index === undefined ? {} : { index: at.index }),
    });
    const known = this.words.get(declared) ?? new Map<number, Word>();
    this.words.set(declared, known.set(range.start, { ...range, to }));
  }

  private declarationOf(node: AstNode): AstNode | null {
    for (let step: AstNode | undefined = node; step; step = step.$container) if (this.ids.has(step)) return step;
    return null;
  }
}

function declarationBehind(thing: Thing): AstNode | null {
  switch (thing.is) {
    case 'slot':
      return thing.draft.slots[thing.slot]?.origin.at ?? null;
    case 'mount':
      return thing.draft.mounts[thing.mount]?.origin.at ?? null;
    case 'axis':
    case 'label':
      return thing.draft.axes[thing.axis]?.origin.at ?? null;
    case 'rule':
      return thing.draft.rules.find(({ id }) => id === thing.id)?.origin.at ?? null;
    case 'function':
    case 'part':
      return thing.origin.at;
    default:
      return null;
  }
}

function outdented(pieces: readonly Piece[], text: string): Piece[] {
  const least = Math.min(...[...text.matchAll(/\n( *)\S/g)].map(([, blanks]) => blanks!.length));
  if (!Number.isFinite(least) || least === 0) return [...pieces];
  const margin = new RegExp(`\\n {1,${least}}`, 'g');
  return pieces.map((piece) => ({ ...piece, text: piece.text.replace(margin, '\n') }));
}
