// The kinds of work that threads may be given, by name.
import { checking } from './checked-file.ts';
import { condensing } from './condensing.ts';
import type { Work } from './crew.ts';
import { differing } from './diff-work.ts';

// each goes with its own how and pieces, which only the thread that asks knows
const all: readonly Work<never, never, unknown>[] = [checking, condensing, differing];

export const works: ReadonlyMap<string, Work<never, never, unknown>> = new Map(all.map((work) => [work.name, work]));
