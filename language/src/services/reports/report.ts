// Texts that tell of a file, for a reader in the editor and for language models: one question, five sorts of answer.
import { reportMethod, type ReportAnswer, type ReportAsked, type ReportTold } from '@thou/shared/protocol';
import { compareText, compareResult } from '../../report/compare.ts';
import { condensed } from '../../report/condensed.ts';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import type { Guide } from '../environment.ts';
import { request, type Feature } from '../feature.ts';
import type { Workspace } from '../workspace.ts';
import { explained } from './explained.ts';
import { findingsText } from './findings.ts';
import { toMeasureText } from './to-measure.ts';
import { outcomeAt, outcomeNamed } from './which.ts';
import { waysText } from './ways.ts';

export const reportFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<ReportAsked, ReportAnswer>({ method: reportMethod }, async (asked, { workspace, guide, settings }) => {
      const steps = (await settings(asked.textDocument.uri))['explanation.steps'];
      return reportOf(workspace, guide, asked, steps);
    }),
  ],
};

/** `steps`: how far an explanation goes back and on. */
export function reportOf(workspace: Workspace, guide: Guide, asked: ReportAsked, steps: number): ReportAnswer {
  const { uri } = asked.textDocument;
  const { outcomes } = workspace.result(uri);
  const name = workspace.files.nameOf(uri);
  if (asked.sort === 'findings') return told(`Findings in ${name}`, findingsText(workspace, uri), null);
  if (asked.sort === 'comparison') return comparison(name, outcomes);
  const outcome =
    asked.build === null ? outcomeAt(workspace, uri, asked.position) : outcomeNamed(outcomes, asked.build);
  if (!outcome) return { problem: noBuild(name, outcomes, asked.build) };
  const build = outcome.binding.name;
  switch (asked.sort) {
    case 'explanation':
      return explained(workspace, outcome, asked, steps);
    case 'toMeasure':
      return told(`To measure in ${build}`, toMeasureText(guide, outcome, workspace.files), build);
    case 'ways': {
      const ways = waysText(workspace, uri, outcome, asked.goals ?? [], asked.turn ?? []);
      return typeof ways === 'string' ? told(`${build}: ${(asked.goals ?? []).join(', ')}`, ways, build) : ways;
    }
  }
}

function comparison(name: string, outcomes: readonly Outcome[]): ReportAnswer {
  if (outcomes.length < 2)
    return {
      problem: `${name} has no two builds to compare: write a variant, "variant other of ${nameIn(outcomes)} { … }".`,
    };
  const builds = outcomes.map((outcome) => condensed(outcome, name));
  return told(`Builds of ${name} compared`, compareText(compareResult(builds, ''), false), null);
}

function nameIn([first]: readonly Outcome[]): string {
  return first?.binding.name ?? 'build';
}

function noBuild(name: string, outcomes: readonly Outcome[], build: string | null): string {
  if (outcomes.length === 0) return `${name} has no build that can be read.`;
  const names = outcomes.map(({ binding }) => binding.name).join(', ');
  return `${name} has no build "${build ?? ''}"; it has ${names}.`;
}

function told(title: string, text: string, build: string | null): ReportTold {
  return { title, text, links: [], build, figure: null };
}
