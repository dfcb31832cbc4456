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
import { diffResult } from '../../report/diff.ts';
import { diffText } from '../../report/diff-text.ts';
import { filesOf } from '../../report/place.ts';
import type { Host } from '../../semantics/project.ts';
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
  const then = {
    name: since.slice(0, 8),
    outcomes: project.check(uri).outcomes,
    mistakes: [],
    files: filesOf(
      (at) => project.source(at),
      (at) => `${files.nameOf(at)} at ${since.slice(0, 8)}`,
    ),
  };
  const now = { name: files.nameOf(uri), outcomes: workspace.result(uri).outcomes, mistakes: [], files };
  return { text: diffText(diffResult(then, now, '')) };
}
