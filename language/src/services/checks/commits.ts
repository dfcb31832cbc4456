// What changed in a file since an earlier commit. Whoever starts the server brings the way to read commits, where there is one.
import {
  changesMethod,
  commitsMethod,
  type ChangesAsked,
  type Commit,
  type CommitsAsked,
  type CommitsTold,
  type TextTold,
} from '@thou/shared/protocol-checks';
import { diffResult, type State } from '../../report/diff.ts';
import { diffText } from '../../report/diff-text.ts';
import { mistakesIn } from '../../report/mistakes.ts';
import { filesOf, type Files } from '../../report/place.ts';
import type { FileResult, Host, Project } from '../../semantics/project.ts';
import { request, type Feature } from '../feature.ts';
import type { Workspace } from '../workspace.ts';

export interface Past {
  /** In which the file was changed, the newest first. */
  commitsOf(uri: string): readonly Commit[] | { readonly problem: string };
  /** All files as they were then. */
  at(uri: string, commit: string): Host | { readonly problem: string };
}

/** A name of a commit in full: nothing else is handed on. */
const name = /^[0-9a-f]{40,64}$/;

export function commitsFeature(past: Past): Feature {
  return {
    capability: () => ({ experimental: { commits: true } }),
    requests: [
      request<CommitsAsked, CommitsTold>({ method: commitsMethod }, ({ textDocument: { uri } }) => {
        const commits = past.commitsOf(uri);
        return 'problem' in commits ? commits : { commits };
      }),
      request<ChangesAsked, TextTold>({ method: changesMethod }, ({ textDocument: { uri }, since }, { workspace }) =>
        changesSince(workspace, past, uri, since),
      ),
    ],
  };
}

export function changesSince(workspace: Workspace, past: Past, uri: string, since: string): TextTold {
  const host = name.test(since) ? past.at(uri, since) : { problem: `There is no commit "${since}".` };
  if ('problem' in host) return host;
  if (host.read(uri) === undefined) return { problem: 'This file was not there at that commit.' };
  const project = workspace.project.over(host);
  const { files } = workspace;
  const before = filesOf(
    (at) => project.source(at),
    (at) => `${files.nameOf(at)} at ${since.slice(0, 8)}`,
  );
  const then = stateOf(since.slice(0, 8), project.check(uri), project, before);
  const now = stateOf(files.nameOf(uri), workspace.result(uri), workspace, files);
  return { text: diffText(diffResult(then, now, '')) };
}

function stateOf(name: string, result: FileResult, sources: Pick<Project, 'source'>, files: Files): State {
  const textOf = (uri: string): string => sources.source(uri)?.text ?? '';
  const mistakes = mistakesIn(result.problemsOfText, textOf, (uri) => files.nameOf(uri));
  return { name, outcomes: result.outcomes, mistakes, files };
}
