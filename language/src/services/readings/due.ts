// Which readings of a build are due, and what to know before each is taken.
import {
  dueMethod,
  type DueAsked,
  type DueReadings,
  type MeasuredBy,
  type ReadingDue,
} from '@thou/shared/protocol-readings';
import { docOf } from '../../grammar/file.ts';
import { address, cellCount, cellsInWords, placesOf } from '../../report/cells.ts';
import { pathWords } from '../../report/check-words.ts';
import { duesOf, type Due } from '../../report/due.ts';
import { bareText, figureOf } from '../../report/figures.ts';
import { capitalised, docText } from '../../report/place.ts';
import { limitsOf } from '../../report/standing.ts';
import { styleOf } from '../../report/writing.ts';
import { settlingFirst } from '../../semantics/due/settling.ts';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import { Places } from '../../semantics/problems/places.ts';
import { request, type Feature } from '../feature.ts';
import { toOffset } from '../positions.ts';
import type { Workspace } from '../workspace.ts';

export const dueFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<DueAsked, DueReadings>({ method: dueMethod }, (asked, { workspace }) => dueReadings(workspace, asked)),
  ],
};

/** Null where the file has no build of its own. */
export function dueReadings(
  workspace: Workspace,
  { textDocument: { uri }, build, position }: DueAsked,
): DueReadings | null {
  const outcome = buildMeant(workspace, uri, build, position);
  if (!outcome) return null;
  const dues = duesOf(outcome, settlingFirst(outcome));
  return {
    build: outcome.binding.name,
    readings: dues.flatMap((due) => readingsOf(outcome, due)),
    instruments: [...outcome.binding.instruments.keys()],
    last: lastMeasured(outcome),
    tables: dues.flatMap(({ slot, path, where, cells }) => {
      const count = cellCount(outcome.slots[slot]!.axes);
      return count > 1 ? [{ figure: path, label: labelOf(path, where), count: cells.length }] : [];
    }),
  };
}

export function buildMeant(
  workspace: Workspace,
  uri: string,
  build: string | null,
  position: DueAsked['position'],
): Outcome | undefined {
  const own = workspace.result(uri).outcomes.filter(({ binding }) => binding.origin.uri === uri);
  if (build !== null) return own.find(({ binding }) => binding.name === build);
  const places = new Places((at) => workspace.source(at));
  const offset = position === null ? -1 : toOffset(workspace.positionsOf(uri), position);
  const round = own.find(({ binding }) => {
    const { start, end } = places.place(binding.origin);
    return start <= offset && offset <= end;
  });
  return round ?? own[0];
}

function readingsOf(outcome: Outcome, { slot, path, cells, why }: Due): ReadingDue[] {
  const one = outcome.slots[slot]!;
  const what = docText(docOf(one.slot.origin.at)).split('\n')[0] ?? '';
  const limits = limitsOf(
    outcome,
    outcome.checks.filter((check) => check.slot?.id === slot),
  );
  return [...cells]
    .sort((a, b) => a - b)
    .map((cell): ReadingDue => {
      const places = placesOf(one.axes, cell);
      const due = bareText(figureOf(outcome, one, cell, 'ordered'));
      const about = [what, due === '—' ? '' : `ordered ${due}`, limits === '' ? '' : `limits ${limits}`, why];
      return {
        figure: address(outcome.binding.schema, one.slot, one.axes, places),
        label: labelOf(path, cellsInWords(one.axes, [places])),
        about: about.filter((line) => line !== ''),
        unit: styleOf(outcome, slot, cell).unit?.symbol ?? null,
      };
    });
}

function labelOf(path: string, where: string): string {
  return capitalised(pathWords(path)) + (where === '' ? '' : `, ${where}`);
}

function lastMeasured({ binding: { history, assignments } }: Outcome): Partial<MeasuredBy> {
  const at = history.findLastIndex(({ kind, date }) => kind === 'measured' && date !== null);
  const block = history[at];
  if (!block) return {};
  const instrument = block.instrument ?? assignments.findLast((one) => one.block === at)?.instrument ?? null;
  return { date: block.date!, ...(block.hand === null ? {} : { hand: block.hand }), instrument };
}
