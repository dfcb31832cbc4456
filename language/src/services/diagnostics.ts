// What is wrong with a file and what in its builds does not hold, as an editor underlines it.
import {
  DiagnosticSeverity,
  DiagnosticTag,
  type ClientCapabilities,
  type Diagnostic,
  type DiagnosticRelatedInformation,
} from 'vscode-languageserver';
import { settingsIn, type SettingValues } from '@thou/shared/settings';
import { pageOf } from '../report/pages.ts';
import { problemsOfOutcomes } from '../report/problems.ts';
import { Places, sameSaid, type Problem } from '../semantics/problems/places.ts';
import type { PlannedLater } from '../semantics/plan/later.ts';
import type { Said } from './last-said.ts';
import { toRange } from './positions.ts';
import type { Workspace } from './workspace.ts';

const severities: Readonly<Record<Problem['severity'], DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  advice: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

/** What could be left out: shown faint. */
const unused: ReadonlySet<string> = new Set(['given.unused', 'accept.not-needed']);

/** A problem, and the build that it is about; null where it is about the text. */
interface About {
  readonly build: string | null;
  readonly figures: string | null;
  readonly problem: Problem;
}

/** While builds are left to be worked out only some are told anew, and of those only what came to other figures. */
export interface Meanwhile {
  isNew(outcome: PlannedLater): boolean;
  /** What was said of the same figures before, where it stands now. */
  alike(build: string, figures: string): Diagnostic | null;
}

const allAnew: Meanwhile = { isNew: () => true, alike: () => null };

/** Of the text and of the builds that are planned, in the order of the text. What is said twice of one place counts once. */
function problemsOf(workspace: Workspace, uri: string, isNew: Meanwhile['isNew']): About[] {
  const result = workspace.result(uri);
  const places = new Places((at) => workspace.source(at));
  const planned = result.outcomes.filter(({ isPlanned }) => isPlanned);
  const told = planned.filter(isNew);
  const read: readonly About[] = [
    ...result.problemsOfText.map((problem) => ({ build: null, figures: null, problem })),
    ...told.flatMap((outcome) =>
      result.problemsOf(outcome).map((problem) => ({ build: outcome.binding.name, figures: null, problem })),
    ),
  ];
  const once = new Map(read.map((about) => [sameSaid(about.problem), about]));
  const found = problemsOfOutcomes(uri, planned, places, workspace.files, told).map((problem) => ({
    build: problem.outcome.binding.name,
    figures: problem.figures,
    problem,
  }));
  return [...once.values(), ...found].sort(({ problem: a }, { problem: b }) => a.start - b.start || a.end - b.end);
}

/** What has to be done before everything can be said of a file, in pieces that others may come between. */
export function piecesOf(workspace: Workspace, uri: string, settings = settingsIn({})): (() => void)[] {
  if (isLeftOut(workspace, uri, settings)) return [];
  const open = workspace.result(uri).outcomes.filter(({ isPlanned }) => !isPlanned);
  return open.map((outcome) => () => void outcome.checks);
}

function isLeftOut(workspace: Workspace, uri: string, settings: SettingValues): boolean {
  return workspace.isOfLibrary(uri) || (settings['findings.files'] === 'open' && !workspace.isOpen(uri));
}

export interface Reader {
  readonly client: ClientCapabilities;
  /** Where the pages of the codes lie, with a stroke at its end. */
  readonly pages: string;
  /** An address as the editor spells it. */
  spelled(uri: string): string;
}

/** As far as it is known. So many at most, the gravest first to stay; one line more counts the rest. */
export function diagnosticsOf(
  workspace: Workspace,
  uri: string,
  reader: Reader,
  settings = settingsIn({}),
): Diagnostic[] {
  const { said, more } = saidOf(workspace, uri, reader, settings);
  return [...said.map(({ diagnostic }) => diagnostic), ...countOf(more)];
}

/** Of the text alone, without what its words mean. */
export function ofText(workspace: Workspace, uri: string, reader: Reader, settings: SettingValues): Diagnostic[] {
  const source = workspace.source(uri);
  if (!source || isLeftOut(workspace, uri, settings)) return [];
  const found = new Places((at) => workspace.source(at)).ofText(source);
  return found.slice(0, settings['findings.most']).map((problem) => diagnosticOf(problem, workspace, reader));
}

/** The same with what each is about. `more`: how many are left out. */
export function saidOf(
  workspace: Workspace,
  uri: string,
  reader: Reader,
  settings: SettingValues,
  meanwhile = allAnew,
): { readonly said: readonly Said[]; readonly more: number } {
  if (isLeftOut(workspace, uri, settings)) return { said: [], more: 0 };
  const least = severities[settings['findings.from']];
  const all = problemsOf(workspace, uri, meanwhile.isNew).filter(
    ({ problem }) => severities[problem.severity] <= least,
  );
  const shown = fewEnough(all, settings['findings.most']);
  const said = shown.map(({ build, figures, problem }) => {
    const before = build === null || figures === null ? null : meanwhile.alike(build, figures);
    return { build, figures, diagnostic: before ?? diagnosticOf(problem, workspace, reader) };
  });
  return { said, more: all.length - shown.length };
}

export function countOf(more: number): Diagnostic[] {
  if (more === 0) return [];
  const start = { line: 0, character: 0 };
  const message = `and ${more} more`;
  return [{ range: { start, end: start }, severity: DiagnosticSeverity.Information, source: 'thou', message }];
}

function fewEnough(all: readonly About[], most: number): readonly About[] {
  if (all.length <= most) return all;
  const byWeight = [...all].sort((a, b) => severities[a.problem.severity] - severities[b.problem.severity]);
  const kept = new Set(byWeight.slice(0, most));
  return all.filter((about) => kept.has(about));
}

function diagnosticOf(problem: Problem, workspace: Workspace, { client, pages, spelled }: Reader): Diagnostic {
  const can = client.textDocument?.publishDiagnostics;
  const tags = unused.has(problem.code) && can?.tagSupport?.valueSet.includes(DiagnosticTag.Unnecessary);
  return {
    range: toRange(workspace.positionsOf(problem.uri), problem),
    severity: severities[problem.severity],
    code: problem.code,
    ...(can?.codeDescriptionSupport ? { codeDescription: { href: `${pages}${pageOf(problem.code)}.md` } } : {}),
    source: 'thou',
    message: problem.message,
    ...(tags ? { tags: [DiagnosticTag.Unnecessary] } : {}),
    ...(can?.relatedInformation && problem.related.length > 0
      ? { relatedInformation: problem.related.map((one) => relatedOf(one, workspace, spelled)) }
      : {}),
  };
}

function relatedOf(
  { message, ...place }: Problem['related'][number],
  workspace: Workspace,
  spelled: Reader['spelled'],
): DiagnosticRelatedInformation {
  return { message, location: { uri: spelled(place.uri), range: toRange(workspace.positionsOf(place.uri), place) } };
}
