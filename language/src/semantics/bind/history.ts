/** Machining and measured blocks: what was ordered and what was read, in the order of their dates. */
import type * as ast from '../../grammar/generated/ast.ts';
import { bindBody, envHere } from './body.ts';
import { noNotes, originOf, type BlockDraft, type Collected, type Place } from './collect.ts';
import { readNotes } from './notes.ts';

export function readBlock(member: ast.Machining | ast.Measured, place: Place): void {
  const env = envHere(place);
  const notes = readNotes(member.notes, noNotes, env);
  const kind = member.$type === 'Machining' ? 'machining' : 'measured';
  const before = place.into.history.at(-1)?.date ?? null;
  const written = place.into.history.length;
  const label = member.label ?? (kind === 'machining' ? 'Machining' : 'Readings');
  const dated = { ...notes, date: notes.date ?? before };
  place.into.history.push({
    kind,
    label,
    date: dated.date,
    hand: dated.hand,
    instrument: dated.instrument,
    origin: originOf(member, place),
    written,
  });
  bindBody(member.body, { ...place, layer: kind, given: new Map(), block: written, notes: dated, whose: label });
}

/** Blocks in the order of their dates, those without one where they stand; figures point at the new places. */
export function inOrder(collected: Collected): {
  readonly history: readonly BlockDraft[];
  readonly placeOf: ReadonlyMap<number, number>;
} {
  const history = [...collected.history].sort(
    (a, b) => (a.date ?? '').localeCompare(b.date ?? '') || a.written - b.written,
  );
  return { history, placeOf: new Map(history.map((block, place) => [block.written, place])) };
}
