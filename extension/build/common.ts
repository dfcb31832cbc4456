/** What every bundle is made with. */
import { fileURLToPath } from 'node:url';
import type { BuildOptions } from 'esbuild';

export const common = {
  absWorkingDir: fileURLToPath(new URL('../..', import.meta.url)),
  bundle: true,
  format: 'cjs',
  platform: 'node',
  // what the oldest editor that the manifest allows brings along
  target: 'node22',
  minify: true,
  metafile: true,
  legalComments: 'none',
  logLevel: 'warning',
  // the folder's own TypeScript settings are for its types alone
  tsconfigRaw: {},
} satisfies BuildOptions;
