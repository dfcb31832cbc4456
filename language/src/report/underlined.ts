// Where in a file a finding is underlined: the entry of the cell that is worst, its neighbours that are out as related places; the
// whole statement only where no single figure can be named.
import { shareOf } from '../semantics/due/settling.ts';
import type { CheckOutcome, Outcome } from '../semantics/plan/outcome.ts';
import type { Places, Problem, TextPlace } from '../semantics/problems/places.ts';
import type { Target } from '../semantics/problems/report.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { cellsInWords } from './cells.ts';
import { showingOfCheck, worstOf } from './check-words.ts';
import { withUnit } from './figures.ts';
import { likeliestFirst, ownCells, type Blamed } from './likeliest.ts';
import { inCommon, writtenAt, type Cells } from './written-cell.ts';

export interface Underlined {
  readonly at: Target;
  /** The statement that it stands in. */
  readonly whole: Target;
  /** Looked for when they are asked for. */
  others(places: Places): Problem['related'];
}

const mostOthers = 5;

/** What was found about a check stands as long as its build is not planned anew. */
const found = new WeakMap<CheckOutcome, Map<string, Underlined>>();

export function underlined(outcome: Outcome, check: CheckOutcome, uri: string): Underlined {
  const byFile = found.get(check) ?? new Map<string, Underlined>();
  const known = byFile.get(uri) ?? lookedFor(outcome, check, uri);
  found.set(check, byFile.set(uri, known));
  return known;
}

function lookedFor(outcome: Outcome, check: CheckOutcome, uri: string): Underlined {
  const here = likeliestFirst(
    outcome,
    check,
    check.blame.filter(({ origin }) => origin.uri === uri),
  );
  const [first, ...more] = here;
  if (first === undefined) {
    const at = check.origin.uri === uri ? check.origin : buildName(outcome);
    return { at, whole: at, others: () => [] };
  }
  const at = writtenFor(outcome, check, first, uri);
  return {
    at,
    whole: first.origin,
    others: (places) => {
      const known = new Set([places.place(at).start]);
      const isNew = ({ start }: TextPlace): boolean => !known.has(start) && known.add(start) !== undefined;
      const beside = besides(outcome, check, first, uri, places).filter(isNew).slice(0, check.cells.length);
      const rest = more.map((one) => ({
        ...places.place(writtenFor(outcome, check, one, uri)),
        message: restsWords(outcome, check, one),
      }));
      const rule = check.origin.uri === uri ? [{ ...places.place(check.origin), message: 'rests on this too' }] : [];
      return [...beside, ...[...rest, ...rule].filter(isNew).slice(0, mostOthers)];
    },
  };
}

/** Of a risk, how much of it a reading of that figure would settle. */
function restsWords(outcome: Outcome, check: CheckOutcome, { slot, cells }: Blamed): string {
  const isDue = outcome.toMeasure.some(({ input }) => input.slot === slot && cells.includes(input.cell));
  const share = check.state === 'at-risk' && isDue ? shareOf(outcome, check, slot, cells) : 0;
  return share < 0.005 ? 'rests on this too' : `measured, this would settle ${Math.round(share * 100)} % of it`;
}

function writtenFor(outcome: Outcome, check: CheckOutcome, blamed: Blamed, uri: string): Origin {
  const { axes } = outcome.slots[blamed.slot]!;
  const cells = inCommon(axes, ownCells(outcome, check, blamed));
  return ofFile(writtenAt(outcome, blamed.slot, cells), uri) ?? blamed.origin;
}

function ofFile(origin: Origin | null, uri: string): Origin | null {
  return origin?.uri === uri ? origin : null;
}

/** The same figure in the other cells that are out, the worst first. */
function besides(
  outcome: Outcome,
  check: CheckOutcome,
  blamed: Blamed,
  uri: string,
  places: Places,
): Problem['related'] {
  const { slot } = blamed;
  const { axes } = outcome.slots[slot]!;
  const shared = check.axes.map(({ id }) => axes.findIndex((axis) => axis.id === id));
  if (shared.length === 0 || shared.includes(-1)) return [];
  const own = inCommon(axes, ownCells(outcome, check, blamed));
  const out = check.cells.filter(({ state }) => state === check.state);
  const showing = showingOfCheck(outcome, check);
  const found: Problem['related'][number][] = [];
  for (let left = out; left.length > 0;) {
    const worst = worstOf(left)!;
    left = left.filter((one) => one !== worst);
    const at: Cells = own.map((place, axis) => (shared.includes(axis) ? worst.places[shared.indexOf(axis)]! : place));
    const origin = ofFile(writtenAt(outcome, slot, at), uri);
    const figure = worst.value === null ? '' : `: ${withUnit(worst.value, showing)}`;
    if (origin)
      found.push({ ...places.place(origin), message: `${cellsInWords(check.axes, [worst.places])}${figure}` });
  }
  return found;
}

/** Where no figure of the file is to blame. */
export function buildName({ binding }: Outcome): Target {
  const name: Origin = { uri: binding.origin.uri, at: binding.nameAt };
  return 'name' in binding.nameAt ? { ...name, property: 'name' } : name;
}
