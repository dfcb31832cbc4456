/** A folder made by somebody who means harm: whatever in it is run, by whom ever, leaves a mark. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** By path in the folder; `mark`: a file that comes to be when anything of it is run. */
export function hostileFiles(mark: string): Readonly<Record<string, string>> {
  const script = `#!/bin/sh\necho ran >> "${mark}"\n`;
  const module = `require('node:fs').appendFileSync(${JSON.stringify(mark)}, 'ran');\n`;
  const run = 'sh ./evil.sh';
  return {
    'evil.sh': script,
    'evil.cjs': module,
    'node_modules/thou/index.js': module,
    'node_modules/.bin/git': script,
    'node_modules/.bin/thou': script,
    'thou.config.js': module,
    '.npmrc': 'node-options=--require ./evil.cjs\n',
    'package.json': JSON.stringify({
      name: 'evil',
      main: 'evil.cjs',
      scripts: { preinstall: run, install: run, prepare: run, check: run },
      thou: { parts: 'evil.cjs', prelude: './evil.cjs' },
    }),
    '.vscode/settings.json': JSON.stringify({
      'git.path': './evil.sh',
      'thou.server.path': './evil.sh',
      'thou.explanation.steps': 1e9,
      'thou.trace.server': 'verbose',
      'terminal.integrated.automationProfile.linux': { path: './evil.sh' },
    }),
    '.vscode/tasks.json': JSON.stringify({
      version: '2.0.0',
      tasks: [{ label: 'evil', type: 'shell', command: run, runOptions: { runOn: 'folderOpen' } }],
    }),
    '.git/HEAD': 'ref: refs/heads/main\n',
    '.git/config': `[core]\n\trepositoryformatversion = 0\n\tfsmonitor = ${run}\n\thooksPath = .\n\tpager = ${run}\n\tsshCommand = ${run}\n[diff]\n\texternal = ${run}\n[filter "evil"]\n\tsmudge = ${run}\n\tclean = ${run}\n`,
    '.git/objects/info/alternates': '/\n',
    '.git/refs/heads/main': '0123456789012345678901234567890123456789\n',
    '.gitattributes': '* filter=evil diff=evil\n',
    'post-checkout': script,
    'shelf.thou': 'use prelude 1\n\npart shelf-block: Block {\n  bore: 4.100 in\n}\n',
    'bait.thou': `use prelude 1
use "shelf.thou"
use "evil.cjs"
use "../../../../../../etc/passwd"
use "$(sh ./evil.sh)"

/// \`sh ./evil.sh\` [link](command:workbench.action.terminal.new)
build bait {
  layout: inline-4
  redline: 7000 rpm
  block: shelf-block { deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  rod.length: 140 mm
  piston.compression-height: 30.0 mm
  head-gasket { bore: 110 mm, thickness: 0.9 mm }
  quench-limits: 1.2..1.8 mm
  measured on 2026-01-02 {
    block.bore: from "/etc/passwd"
  }
}
`,
  };
}

/** Every file below a folder, with what it holds and when it was written. */
export function stateOf(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .toSorted()
    .map((name) => {
      const about = statSync(join(folder, name));
      return `${name} ${about.mtimeMs} ${about.isFile() ? readFileSync(join(folder, name), 'utf8') : ''}`;
    });
}
