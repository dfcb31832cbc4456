// Above a build: how its checks stand. Above a part: in how many places it is used. Worked out when the editor shows the line.
import {
  CodeLensRequest,
  CodeLensResolveRequest,
  type ClientCapabilities,
  type CodeLens,
  type CodeLensParams,
} from 'vscode-languageserver-protocol';
import { showFindingsCommand, showUsesCommand } from '@thou/shared/protocol-checks';
import type { BuildStanding } from '@thou/shared/protocol';
import { rangeOf } from '../../grammar/file.ts';
import type { Part } from '../../grammar/generated/ast.ts';
import { buildStandings } from '../build-status.ts';
import { piecesOf } from '../diagnostics.ts';
import { request, type Asked, type Feature } from '../feature.ts';
import { toOffset, toRange } from '../positions.ts';
import { referencesAt } from '../references.ts';
import type { Workspace } from '../workspace.ts';
import { buildsIn } from './builds.ts';

/** What is kept with a lens until it is shown. */
interface Kept {
  readonly uri: string;
  readonly of: 'build' | 'part';
  readonly name: string;
}

export const lensFeature: Feature = {
  capability: () => ({ codeLensProvider: { resolveProvider: true } }),
  requests: [request(CodeLensRequest.type, listed), request(CodeLensResolveRequest.type, resolved)],
};

async function listed({ textDocument: { uri } }: CodeLensParams, { workspace, settings }: Asked): Promise<CodeLens[]> {
  const wanted = await settings(uri);
  return [
    ...(wanted['codeLens.build'] ? buildLenses(workspace, uri) : []),
    ...(wanted['codeLens.parts'] ? partLenses(workspace, uri) : []),
  ];
}

export function buildLenses(workspace: Workspace, uri: string): CodeLens[] {
  const builds = buildsIn(workspace, uri)?.builds ?? [];
  return builds.map(({ name, range }) => lens(uri, 'build', name, { start: range.start, end: range.start }));
}

export function partLenses(workspace: Workspace, uri: string): CodeLens[] {
  const positions = workspace.positionsOf(uri);
  return (workspace.source(uri)?.blocks ?? []).flatMap(({ parsed, offset }) => {
    if (parsed.item?.$type !== 'Part' || !(parsed.item as Part).name) return [];
    const { start, end } = rangeOf({ node: parsed.item, property: 'name' });
    const place = { start: offset + start, end: offset + end };
    return [lens(uri, 'part', (parsed.item as Part).name, toRange(positions, place))];
  });
}

function lens(uri: string, of: Kept['of'], name: string, range: CodeLens['range']): CodeLens {
  const data: Kept = { uri, of, name };
  return { range, data };
}

/** The file may be another meanwhile: a build that is gone has nothing above it. */
export async function resolved(one: CodeLens, asked: Asked): Promise<CodeLens> {
  const { workspace, client, breathe } = asked;
  const { uri, of, name } = one.data as Kept;
  if (!workspace.source(uri)) return one;
  if (of === 'part') {
    const offset = toOffset(workspace.positionsOf(uri), one.range.start);
    const places = (await referencesAt(workspace, uri, offset, false, breathe)) ?? [];
    const title = `used in ${places.length} ${places.length === 1 ? 'place' : 'places'}`;
    return { ...one, command: command(client, showUsesCommand, title, uri, one.range.start, places) };
  }
  for (const piece of piecesOf(workspace, uri, await asked.settings(uri))) {
    await breathe();
    piece();
  }
  const standing = buildStandings(workspace, uri).find((build) => build.name === name);
  const title = standing ? inWords(standing) : '';
  return { ...one, command: command(client, showFindingsCommand, title, uri, name) };
}

/** A command that the editor does not have would be an error when it is clicked: without it there are only the words. */
function command(
  client: ClientCapabilities,
  name: string,
  title: string,
  ...args: readonly unknown[]
): NonNullable<CodeLens['command']> {
  const { commands } = (client.experimental ?? {}) as { commands?: { commands?: readonly unknown[] } };
  return commands?.commands?.includes(name) === true
    ? { title, command: name, arguments: [...args] }
    : { title, command: '' };
}

function inWords({ hold, out, atRisk, toMeasure }: BuildStanding): string {
  const risk = atRisk > 0 ? [`${atRisk} at risk`] : [];
  return [`${hold} hold`, `${out} out`, ...risk, `${toMeasure} to measure`].join(' · ');
}
