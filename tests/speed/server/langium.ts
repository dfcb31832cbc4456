/** A server of Langium as it comes: its own start, its defaults, a grammar and nothing else, bundled as ours is. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';

const entry = `
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { createDefaultModule, createDefaultSharedModule, startLanguageServer } from 'langium/lsp';
import { NodeFileSystem } from 'langium/node';
import { inject } from 'langium';
import { PlainGeneratedModule, PlainGeneratedSharedModule } from './generated/module.ts';
const connection = createConnection(ProposedFeatures.all, process.stdin, process.stdout);
const shared = inject(createDefaultSharedModule({ connection, ...NodeFileSystem }), PlainGeneratedSharedModule);
const services = inject(createDefaultModule({ shared }), PlainGeneratedModule);
shared.ServiceRegistry.register(services);
startLanguageServer(shared);
`;

/** Returns the bundle's path. `folder` has to lie inside the repository, where the packages are found. */
export async function langiumServer(folder: string, grammar: string): Promise<string> {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'plain.langium'), grammar);
  const languages = [{ id: 'plain', grammar: 'plain.langium', fileExtensions: ['.plain'] }];
  const config = { projectName: 'Plain', importExtension: '.ts', languages, out: 'generated' };
  writeFileSync(join(folder, 'langium-config.json'), JSON.stringify(config));
  execFileSync('npx', ['langium', 'generate', '--file', join(folder, 'langium-config.json')], { stdio: 'pipe' });
  writeFileSync(join(folder, 'main.ts'), entry);
  const outfile = join(folder, 'server.cjs');
  await build({
    entryPoints: [join(folder, 'main.ts')],
    outfile,
    bundle: true,
    format: 'cjs',
    platform: 'node',
    target: 'node22',
    minify: true,
    logLevel: 'error',
    tsconfigRaw: {},
  });
  return outfile;
}
