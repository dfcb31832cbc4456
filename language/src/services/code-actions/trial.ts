// What would be said of a file if its text were another: tried on a project of its own, so that nothing shown is disturbed.
import type { FileResult, Project } from '../../semantics/project.ts';
import type { Workspace } from '../workspace.ts';
import { applied, type Edit } from './edit.ts';

interface Tried {
  readonly project: Project;
  now: { readonly uri: string; readonly text: string };
}

const known = new WeakMap<Workspace, Tried>();

export function tried(workspace: Workspace, uri: string, edits: readonly Edit[]): FileResult {
  const trial = known.get(workspace) ?? begun(workspace);
  trial.now = { uri, text: applied(workspace.source(uri)?.text ?? '', edits) };
  return trial.project.check(uri);
}

function begun(workspace: Workspace): Tried {
  const trial: Tried = {
    now: { uri: '', text: '' },
    project: workspace.project.over({
      read: (uri) => (uri === trial.now.uri ? trial.now.text : workspace.read(uri)),
      resolve: (from, path) => workspace.resolve(from, path),
    }),
  };
  known.set(workspace, trial);
  return trial;
}
