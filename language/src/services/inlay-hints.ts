// Beside a figure: how much room is left to a limit, only where it is little, at what can be turned for it, else at the demand. Beside a formula:
// what it comes to.
import { InlayHintKind, type InlayHint } from 'vscode-languageserver-types';
import { InlayHintRequest } from 'vscode-languageserver-protocol';
import { computedIn } from '../report/computed.ts';
import { marginSentence, marginsOf, marginText, type Margin } from '../report/margins.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { Places } from '../semantics/problems/places.ts';
import type { Origin } from '../semantics/schema/schema.ts';
import { request, type Feature } from './feature.ts';
import { toOffset, toRange } from './positions.ts';
import type { Workspace } from './workspace.ts';

const mostShown = 200;

export const inlayHintsFeature: Feature = {
  capability: () => ({ inlayHintProvider: true }),
  requests: [
    request(InlayHintRequest.type, async ({ textDocument: { uri }, range }, { workspace, settings }) => {
      const kinds = await settings(uri);
      const positions = workspace.positionsOf(uri);
      const [from, to] = [toOffset(positions, range.start), toOffset(positions, range.end)];
      const margins = kinds['inlayHints.margins'] ? marginHints(workspace, uri, from, to) : [];
      const values = kinds['inlayHints.values'] ? valueHints(workspace, uri, from, to) : [];
      const taken = new Set(margins.map(({ position }) => placeOf(position)));
      return [...margins, ...values.filter(({ position }) => !taken.has(placeOf(position)))];
    }),
  ],
};

/** Of the builds in a file, between two places of its text. One hint a place: that with least room for its limits comes first. */
export function marginHints(workspace: Workspace, uri: string, from: number, to: number): InlayHint[] {
  const places = new Places((at) => workspace.source(at));
  const hints = new Map<number, InlayHint>();
  for (const outcome of workspace.result(uri).outcomes) {
    // a variant shares the figures of its base: they are told there
    if (outcome.binding.origin.uri !== uri) continue;
    for (const margin of marginsOf(outcome)) {
      const origin = shownAt(outcome, margin, uri);
      if (origin === null) continue;
      const place = places.place(origin);
      if (place.uri !== uri || place.end < from || place.end > to || hints.has(place.end) || hints.size >= mostShown)
        continue;
      hints.set(place.end, {
        position: toRange(workspace.positionsOf(uri), place).end,
        label: marginText(outcome, margin),
        kind: InlayHintKind.Type,
        paddingLeft: true,
        tooltip: marginSentence(outcome, margin),
      });
    }
  }
  return [...hints.values()];
}

/** What formulas of the builds come to, and figures that are expected to lie within limits. A variant's own lines say what they come to in it. */
export function valueHints(workspace: Workspace, uri: string, from: number, to: number): InlayHint[] {
  const places = new Places((at) => workspace.source(at));
  const hints = new Map<number, InlayHint>();
  for (const outcome of workspace.result(uri).outcomes) {
    for (const { at, text } of computedIn(outcome)) {
      const { uri: of, end } = places.place(at);
      if (of !== uri || end < from || end > to || hints.has(end) || hints.size >= mostShown) continue;
      const label = text();
      if (label === null) continue;
      const position = toRange(workspace.positionsOf(uri), { start: end, end }).start;
      hints.set(end, { position, label: `= ${label}`, kind: InlayHintKind.Type, paddingLeft: true });
    }
  }
  return [...hints.values()];
}

function placeOf({ line, character }: InlayHint['position']): string {
  return `${line}:${character}`;
}

/** The figure itself where it was written in this build, else the first that may be turned for it, else the demand. */
function shownAt(outcome: Outcome, { check }: Margin, uri: string): Origin | null {
  const targets = [
    ...(check.slot === null ? [] : [check.slot.id]),
    ...(check.rule?.adjust.map(({ slot }) => slot) ?? []),
  ];
  for (const id of targets) {
    const one = outcome.slots[id];
    const source = one && one.states.map((_, cell) => one.sourceOf(cell, 'measured')).find((found) => found !== null);
    if (source && isOfBuild(outcome, source.origin, uri)) return { uri, at: source.value.at ?? source.origin.at };
  }
  const demand = check.expect ?? null;
  return demand !== null && !demand.inherited && demand.origin.uri === uri ? demand.origin : null;
}

function isOfBuild({ binding }: Outcome, origin: Origin, uri: string): boolean {
  if (origin.uri !== uri) return false;
  for (let at: Origin['at'] | undefined = origin.at; at; at = at.$container) if (at === binding.origin.at) return true;
  return false;
}
