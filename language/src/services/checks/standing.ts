// How every check of a file stands, what is still to be measured and what to be ordered, each with its place in the text.
import type { Location } from 'vscode-languageserver-types';
import {
  standingMethod,
  type BuildTold,
  type CheckTold,
  type DueTold,
  type StandingAsked,
} from '@thou/shared/protocol-checks';
import { pathWords, stateWords, subject } from '../../report/check-words.ts';
import { duesOf } from '../../report/due.ts';
import { foundIn, message } from '../../report/findings.ts';
import { headline } from '../../report/headline.ts';
import { locate } from '../../report/locate.ts';
import { ordersOf } from '../../report/orders.ts';
import { capitalised, type Files } from '../../report/place.ts';
import { findingProblems } from '../../report/problems.ts';
import type { CheckOutcome, Outcome } from '../../semantics/plan/outcome.ts';
import { Places } from '../../semantics/problems/places.ts';
import { locationOf } from '../definition.ts';
import { request, type Feature } from '../feature.ts';
import { piecesOf } from '../diagnostics.ts';
import type { Workspace } from '../workspace.ts';

export const standingFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<StandingAsked, BuildTold[]>(
      { method: standingMethod },
      async ({ textDocument: { uri } }, { workspace, breathe, settings }) => {
        for (const piece of piecesOf(workspace, uri, await settings(uri))) {
          await breathe();
          piece();
        }
        return standingOf(workspace, uri, breathe);
      },
    ),
  ],
};

/** Build by build, others may come between; when the text becomes another meanwhile, it begins again. */
export async function standingOf(
  workspace: Workspace,
  uri: string,
  breathe: () => Promise<void>,
): Promise<BuildTold[]> {
  if (workspace.isOfLibrary(uri)) return [];
  const result = workspace.result(uri);
  const places = new Places((at) => workspace.source(at));
  const problems = findingProblems(uri, result.outcomes, places, workspace.files);
  const underlined = new Map(problems.map((problem) => [problem.check, locationOf(workspace, problem)]));
  const told: BuildTold[] = [];
  for (const outcome of result.outcomes) {
    told.push(buildTold(workspace, uri, outcome, places, underlined));
    await breathe();
    if (workspace.result(uri) !== result) return standingOf(workspace, uri, breathe);
  }
  return told;
}

function buildTold(
  workspace: Workspace,
  uri: string,
  outcome: Outcome,
  places: Places,
  underlined: ReadonlyMap<CheckOutcome, Location>,
): BuildTold {
  const ids = idsOf(outcome);
  const name = nameOf(workspace, outcome, places);
  return {
    name: outcome.binding.name,
    where: name,
    checks: [...ids].map(([check, id]) => {
      const where = underlined.get(check) ?? placeOfCheck(workspace, uri, outcome, check, places) ?? name;
      return checkTold(outcome, check, id, where, workspace.files);
    }),
    findings: foundIn(outcome).map(({ check }) => ids.get(check)!),
    toMeasure: duesOf(outcome, outcome.toMeasure).map(({ path, slot, cells, where, why, settles }) => ({
      figure: path,
      label: capitalised(pathWords(path)) + (where === '' ? '' : `, ${where}`),
      about: why === '' ? settledWords(outcome, settles) : why,
      where: ownPlace(workspace, uri, outcome, slot, cells[0] ?? 0, places) ?? name,
    })),
    toOrder: ordersOf(outcome).map(({ label, size, count, from, address }): DueTold => {
      const found = locate(outcome, address);
      const slot = 'problem' in found ? null : found.one.slot.id;
      return {
        figure: address,
        label: `${count === 1 ? '' : `${count} × `}${size} ${label}`,
        about: from === '' ? '' : `from ${from}`,
        where: (slot === null ? null : ownPlace(workspace, uri, outcome, slot, 0, places)) ?? name,
      };
    }),
  };
}

/** Two checks that are written the same are told apart by their order. */
function idsOf({ checks }: Outcome): Map<CheckOutcome, string> {
  const times = new Map<string, number>();
  const ids = new Map<CheckOutcome, string>();
  for (const check of checks) {
    if (check.state === 'not-applicable') continue;
    const before = times.get(check.id) ?? 0;
    times.set(check.id, before + 1);
    ids.set(check, before === 0 ? check.id : `${check.id} (${before + 1})`);
  }
  return ids;
}

const states = {
  'holds-measured': 'holds',
  'holds-on-paper': 'holds',
  accepted: 'accepted',
  'at-risk': 'at-risk',
  'out-of-limits': 'out',
  'cannot-tell': 'cannot-tell',
} as const;

function checkTold(outcome: Outcome, check: CheckOutcome, id: string, where: Location, files: Files): CheckTold {
  const { state } = check;
  const isPlain = state.startsWith('holds');
  return {
    id,
    label: capitalised(check.kind === 'expect' ? id : pathWords(id)),
    state: states[state as keyof typeof states],
    stateWords: stateWords[state],
    words: isPlain ? headline(outcome, check) : message(outcome, check, files, '\n'),
    where,
  };
}

function settledWords({ checks }: Outcome, ids: readonly string[]): string {
  const names = new Set(checks.filter(({ id }) => ids.includes(id)).map(subject));
  const [first, ...others] = names;
  if (first === undefined) return '';
  return others.length === 0 ? `for ${first}` : `for ${first} and ${others.length} more`;
}

/** Where it is demanded in this file, else at the first figure of this file that it rests on. */
function placeOfCheck(
  workspace: Workspace,
  uri: string,
  outcome: Outcome,
  { kind, origin, blame, slot }: CheckOutcome,
  places: Places,
): Location | null {
  if (kind === 'expect' && origin.uri === uri) return locationOf(workspace, places.place(origin));
  const own = blame.find((one) => one.origin.uri === uri)?.origin;
  if (own) return locationOf(workspace, places.place(own));
  return slot === null ? null : ownPlace(workspace, uri, outcome, slot.id, 0, places);
}

/** The name of the build, or what stands for it. */
function nameOf(workspace: Workspace, { binding: { origin, nameAt } }: Outcome, places: Places): Location {
  const at = { uri: origin.uri, at: nameAt };
  return locationOf(workspace, places.place('name' in nameAt ? { ...at, property: 'name' } : at));
}

/** Where this file gives the figure already. */
function ownPlace(
  workspace: Workspace,
  uri: string,
  { slots }: Outcome,
  slot: number,
  cell: number,
  places: Places,
): Location | null {
  const origin = slots[slot]?.sourceOf(cell, 'measured')?.origin;
  return origin?.uri === uri ? locationOf(workspace, places.place(origin)) : null;
}
