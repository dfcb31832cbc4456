/** The licences of what is packed, read off the list of files that went into the bundles. Refuses a licence that nobody has looked at. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const allowed: ReadonlySet<string> = new Set([
  'MIT',
  'Apache-2.0',
  'ISC',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'BlueOak-1.0.0',
]);

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
}

/** @param inputs paths from `root`, as the bundler lists them */
export function noticesFor(inputs: readonly string[], root: string): string {
  const folders = new Set(
    inputs.flatMap((input) => /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(input)?.[0] ?? []),
  );
  const parts = [...folders].map((folder) => noticeOf(join(root, folder)));
  return ['Thou is made with the following packages.\n', ...parts.toSorted((a, b) => a.localeCompare(b, 'en'))].join(
    '\n' + '-'.repeat(80) + '\n\n',
  );
}

function noticeOf(folder: string): string {
  const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;
  if (license === undefined || !allowed.has(license)) {
    throw new Error(
      `${name} ${version} is packed under "${license}": look at it and add it to the list, or leave the package out`,
    );
  }
  const file = readdirSync(folder).find((entry) => /^licen[cs]e/i.test(entry));
  const text = file !== undefined && existsSync(join(folder, file)) ? readFileSync(join(folder, file), 'utf8') : '';
  return `${name} ${version} (${license})\n\n${text.replaceAll('\r\n', '\n').trim()}\n`;
}
