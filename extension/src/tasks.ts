/** A task that checks a folder at the command line, with the `thou` that its package brings; nothing is fetched for it. */
import { ShellExecution, Task, TaskGroup, tasks, workspace, type Disposable, type WorkspaceFolder } from 'vscode';

const type = 'thou';
const matcher = '$thou';

export function checkTasks(): Disposable {
  return tasks.registerTaskProvider(type, {
    provideTasks: () =>
      (workspace.workspaceFolders ?? [])
        .filter(({ uri }) => uri.scheme === 'file')
        .map((folder) => checkTask(folder, { type, task: 'check' })),
    resolveTask: ({ definition, scope }) =>
      definition['task'] === 'check' && scope !== undefined && typeof scope === 'object'
        ? checkTask(scope, definition)
        : undefined,
  });
}

function checkTask(folder: WorkspaceFolder, definition: Task['definition']): Task {
  const { files } = definition as { files?: unknown };
  const named = Array.isArray(files) ? files.filter((file) => typeof file === 'string') : [];
  // what is not installed is not looked for elsewhere
  const run = new ShellExecution('npx', ['--no', '--', 'thou', 'check', ...(named.length > 0 ? named : ['.'])]);
  const task = new Task(definition, folder, 'check', 'thou', run, matcher);
  task.group = TaskGroup.Test;
  return task;
}
