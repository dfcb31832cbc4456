/** The editor as a web page alone, with no machine behind it: extensions run in the browser's worker, files lie in a folder in memory. */
import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { quiet } from './host.ts';
import { editorFolder } from './install.ts';
import { serveFolders, type StaticServer } from './static-server.ts';

const memoryFolder = join(import.meta.dirname, 'memory-folder');

/** The test's own extension, with the files that its folder holds; by paths such as `/engines/a.thou`. */
export function fillMemoryFolder(at: string, files: Readonly<Record<string, string>>): void {
  mkdirSync(at, { recursive: true });
  cpSync(memoryFolder, at, { recursive: true });
  writeFileSync(join(at, 'files.json'), JSON.stringify(files));
}

/** `extensions`: folders of unpacked extensions by a name. */
export async function startWebHost(extensions: Readonly<Record<string, string>>): Promise<StaticServer> {
  const template = readFileSync(join(editorFolder, 'out/vs/code/browser/workbench/workbench.html'), 'utf8');
  const page = (address: string): string => {
    const configuration = {
      userDataPath: '/user',
      isEnabledFileDownloads: false,
      isEnabledFileUploads: false,
      isEnabledCoderGettingStarted: false,
      folderUri: { scheme: 'memory', path: '/engines' },
      additionalBuiltinExtensions: Object.keys(extensions).map((name) => ({
        scheme: 'http',
        authority: address,
        path: `/${name}`,
      })),
      configurationDefaults: { ...quiet, 'security.workspace.trust.enabled': false },
      productConfiguration: {
        enableTelemetry: false,
        webviewContentExternalBaseUrlTemplate: `http://${address}/editor/out/vs/workbench/contrib/webview/browser/pre/`,
      },
    };
    const values: Readonly<Record<string, string>> = {
      WORKBENCH_WEB_CONFIGURATION: JSON.stringify(configuration).replaceAll('&', '&amp;').replaceAll('"', '&quot;'),
      WORKBENCH_WEB_BASE_URL: `http://${address}/editor`,
      WORKBENCH_NLS_FALLBACK_URL: `http://${address}/editor/out/nls.messages.js`,
      WORKBENCH_NLS_URL: `http://${address}/editor/out/nls.messages.js`,
      BASE: '',
      VS_BASE: '',
    };
    return template.replaceAll(/\{\{(\w+)\}\}/g, (_, name: string) => values[name] ?? '');
  };
  return serveFolders(
    { editor: editorFolder, ...extensions },
    (path, address) => (path === '/' ? page(address) : null),
    {
      [`/editor/${workbench}`]: withoutMachine(readFileSync(join(editorFolder, workbench), 'utf8')),
    },
  );
}

const workbench = 'out/vs/code/browser/workbench/workbench.js';

/** This editor takes it that a machine of its own stands behind the page, and keeps the user's settings there: both are taken back. */
function withoutMachine(text: string): string {
  const changes: readonly (readonly [RegExp, string])[] = [
    [/,remoteAuthority:location\.host\}/, '}'],
    [
      /\.file\(this\.userDataPath\)\.with\(\{scheme:(\w+)\.vscodeRemote\}\)/,
      '.file("/").with({scheme:$1.vscodeUserData})',
    ],
  ];
  return changes.reduce((before, [found, by]) => {
    if (!found.test(before)) throw new Error(`the editor has changed: ${found} is not in it`);
    return before.replace(found, by);
  }, text);
}
