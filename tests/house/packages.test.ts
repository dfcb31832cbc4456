/** Packages: exact versions, one copy of what does not get on with a second one, and a lock that names no host. */
import { expect, test } from 'vitest';
import { textOf } from './walls.ts';

interface Manifest {
  readonly version?: string;
  readonly workspaces?: readonly string[];
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
}
interface Lock {
  readonly packages: Readonly<
    Record<string, { readonly version?: string; readonly resolved?: string; readonly link?: boolean }>
  >;
}

const root = JSON.parse(textOf('package.json')) as Manifest;
const manifests = ['package.json', ...(root.workspaces ?? []).map((folder) => `${folder}/package.json`)];
const lock = JSON.parse(textOf('package-lock.json')) as Lock;

test.each(manifests)('%s pins exact versions', (file) => {
  const { dependencies, devDependencies } = JSON.parse(textOf(file)) as Manifest;
  const loose = Object.entries({ ...dependencies, ...devDependencies }).filter(
    ([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version),
  );
  expect(loose).toEqual([]);
});

test.each([
  ['langium', '4.4.0'],
  ['vscode-jsonrpc', '9.0.3'],
  ['vscode-languageclient', '10.1.2'],
  ['vscode-languageserver', '10.1.2'],
  ['vscode-languageserver-protocol', '3.18.4'],
  ['vscode-languageserver-textdocument', '1.0.15'],
  ['vscode-languageserver-types', '3.18.4'],
  ['vscode-uri', '3.1.0'],
])('one copy of %s, at %s', (name, version) => {
  const copies = Object.entries(lock.packages).filter(([path]) => path.endsWith(`node_modules/${name}`));
  expect(copies.map(([path, { version: found }]) => [path, found])).toEqual([[`node_modules/${name}`, version]]);
});

test('the lock names no host', () => {
  const addresses = Object.values(lock.packages).filter(
    ({ resolved, link }) => resolved !== undefined && link !== true,
  );
  expect(addresses).toEqual([]);
});

test('every part has the version of the whole', () => {
  const versions = manifests.map((file) => (JSON.parse(textOf(file)) as Manifest).version);
  expect(new Set(versions).size).toBe(1);
});
