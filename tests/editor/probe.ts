/** A small extension of the tests' own, laid beside ours: it asks the editor for tools as a language model's host would, and writes the answers down. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const main = `
const vscode = require('vscode');
exports.activate = (context) => context.subscriptions.push(
  vscode.commands.registerCommand('probe.tools', async () => {
    const folder = vscode.workspace.workspaceFolders[0].uri;
    const write = (answer) => vscode.workspace.fs.writeFile(
      vscode.Uri.joinPath(folder, 'probe.json'), Buffer.from(JSON.stringify(answer)));
    if (!vscode.lm?.invokeTool) return write({ none: true });
    const names = vscode.lm.tools.map(({ name }) => name).filter((name) => name.startsWith('thou_'));
    const told = {};
    const inputs = { thou_check: {}, thou_explain: { figure: 'compression' }, thou_to_measure: {}, thou_solve: { goals: ['quench = 1.00 mm'] } };
    for (const [name, input] of Object.entries(inputs)) {
      try {
        const result = await vscode.lm.invokeTool(name, { input: { file: 'first.thou', ...input }, toolInvocationToken: undefined });
        told[name] = result.content.map((part) => part.value).join('');
      } catch (problem) {
        told[name] = 'failed: ' + problem;
      }
    }
    await write({ names, told });
  }),
);
`;

/** Returns the folder that it lies in. */
export function layOutProbe(folder: string): string {
  mkdirSync(folder, { recursive: true });
  const manifest = {
    name: 'probe',
    publisher: 'tests',
    version: '1.0.0',
    main: './main.js',
    engines: { vscode: '^1.101.0' },
    contributes: { commands: [{ command: 'probe.tools', title: 'Probe: Tools' }] },
  };
  writeFileSync(join(folder, 'package.json'), JSON.stringify(manifest));
  writeFileSync(join(folder, 'main.js'), main);
  return folder;
}
