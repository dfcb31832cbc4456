// Which files have builds, and where: read from the texts alone, nothing is worked out.
import { buildFilesMethod, type BuildFile } from '@thou/shared/protocol-checks';
import { rangeOf } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { request, type Feature } from '../feature.ts';
import { toRange } from '../positions.ts';
import type { Workspace } from '../workspace.ts';

export const buildFilesFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<object, BuildFile[]>({ method: buildFilesMethod }, async (_, { workspace, breathe }) => {
      const found: BuildFile[] = [];
      for (const [at, uri] of workspace.known().entries()) {
        if (at % filesAtOnce === 0) await breathe();
        const file = buildsIn(workspace, uri);
        if (file) found.push(file);
      }
      return found;
    }),
  ],
};

const filesAtOnce = 16;

/** Null where it has none. Only the text is read. */
export function buildsIn(workspace: Workspace, uri: string): BuildFile | null {
  if (workspace.isOfLibrary(uri)) return null;
  const source = workspace.source(uri);
  const positions = workspace.positionsOf(uri);
  const builds = (source?.blocks ?? []).flatMap(({ parsed, offset }) => {
    const { item } = parsed;
    if (item?.$type !== 'Build' && item?.$type !== 'Variant') return [];
    const { name } = item as ast.Build | ast.Variant;
    if (!name) return [];
    const { start, end } = rangeOf(item);
    return [{ name, range: toRange(positions, { start: offset + start, end: offset + end }) }];
  });
  return builds.length > 0 ? { uri, builds } : null;
}
