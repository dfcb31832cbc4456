// Computed fixes for what does not hold: worked back from the check, written into the text, tried there, and told with what follows.
import type { CheckOutcome, Outcome } from '../../semantics/plan/outcome.ts';
import { planBuild } from '../../semantics/plan/run.ts';
import type { FileResult } from '../../semantics/project.ts';
import { consequencesOf } from '../../semantics/solve/consequences.ts';
import type { Remedy } from '../../semantics/solve/records.ts';
import { remediesFor } from '../../semantics/solve/remedies.ts';
import type { Workspace } from '../workspace.ts';
import type { Edit } from './edit.ts';
import { gridFor, lastDigit } from '../../report/writing.ts';
import { partOfSize, shelfOf } from '../../semantics/solve/shelf.ts';
import { wordsOf, type Effect, type Words } from './title.ts';
import { tried } from './trial.ts';
import { editsFor, partInstead } from './written.ts';

export interface Solved extends Words {
  readonly edits: readonly Edit[];
  /** Nothing gets worse by it. */
  readonly isClean: boolean;
}

/** More than this gets worse: no fix. */
const mostWorse = 3;

const known = new WeakMap<FileResult, Map<CheckOutcome, readonly Solved[]>>();

/** Those that spoil nothing come first. Kept as long as the file stands. */
export async function solvedFor(
  workspace: Workspace,
  uri: string,
  outcome: Outcome,
  check: CheckOutcome,
  breathe: () => Promise<void>,
): Promise<readonly Solved[]> {
  const result = workspace.result(uri);
  const kept = known.get(result) ?? new Map<CheckOutcome, readonly Solved[]>();
  known.set(result, kept);
  const done = kept.get(check) ?? (await workedOut(workspace, uri, outcome, check, breathe));
  if (workspace.result(uri) === result) kept.set(check, done);
  return done;
}

async function workedOut(
  workspace: Workspace,
  uri: string,
  outcome: Outcome,
  check: CheckOutcome,
  breathe: () => Promise<void>,
): Promise<readonly Solved[]> {
  const result = workspace.result(uri);
  const remedies = remediesFor(planBuild(outcome.binding), check, {
    gridOf: (slot, cell) => gridFor(outcome, slot, cell),
    sizesOf: (slot) => shelfOf(workspace, uri, outcome, slot).map(({ size }) => size),
  });
  const once = new Map<string, Solved>();
  for (const remedy of remedies) {
    await breathe();
    // the text went on meanwhile: what was worked out is of an older one
    if (workspace.result(uri) !== result) return [];
    const solved = triedOut(workspace, uri, outcome, check, remedy);
    if (solved !== null) once.set(solved.title, solved);
  }
  return [...once.values()].sort((a, b) => Number(b.isClean) - Number(a.isClean));
}

function triedOut(
  workspace: Workspace,
  uri: string,
  outcome: Outcome,
  check: CheckOutcome,
  remedy: Remedy,
): Solved | null {
  const source = workspace.source(uri);
  const before = workspace.result(uri);
  if (source === undefined) return null;
  const part = partFor(workspace, uri, outcome, remedy);
  const fitted = part === null ? null : partInstead(outcome, source, remedy.moves[0]!, part);
  const edits = fitted ?? editsFor(outcome, source, remedy.moves);
  if (edits === null) return null;
  const after = tried(workspace, uri, edits);
  if (errorsIn(after) > errorsIn(before)) return null;
  const effects = before.outcomes.map((one): Effect | null => {
    const now = after.outcomes.find(({ binding }) => binding.name === one.binding.name);
    return now ? { outcome: now, consequences: consequencesOf(one, now, lastDigit(one)) } : null;
  });
  const own = effects[before.outcomes.findIndex((one) => one === outcome)] ?? null;
  if (own === null || !effects.every((one) => one !== null) || !holds(own.outcome, check)) return null;
  const others = effects.filter((one) => one !== own) as Effect[];
  const worse = [own, ...others].reduce((count, { consequences }) => count + consequences.worse.length, 0);
  if (worse > mostWorse) return null;
  return { ...wordsOf(outcome, check, remedy, own, others, part), edits, isClean: worse === 0 };
}

/** The part on the shelf with the size that a single figure comes to. */
function partFor(workspace: Workspace, uri: string, outcome: Outcome, { moves }: Remedy): string | null {
  const [move] = moves;
  if (!move?.whole || moves.length !== 1) return null;
  return partOfSize(shelfOf(workspace, uri, outcome, move.slot), [...move.to.values()][0]!);
}

function errorsIn({ problems }: FileResult): number {
  return problems.filter(({ severity }) => severity === 'error' || severity === 'warning').length;
}

/** A size that is to be cut again is checked again when it is read again. */
function holds({ checks }: Outcome, { id, kind }: CheckOutcome): boolean {
  const now = checks.find((one) => one.id === id);
  if (now === undefined) return kind === 'to-size';
  return (
    now.state.startsWith('holds') || now.state === 'accepted' || (kind === 'to-size' && now.state === 'not-applicable')
  );
}
