/** File names in the quotes of `use` and `from`. */
import { nameOf } from '../../grammar/tokens.ts';
import { pathFrom } from '../paths.ts';
import type { Workspace } from '../workspace.ts';
import type { Offer } from './offer.ts';
import type { Surroundings } from './probe.ts';

export function filesAt(
  workspace: Workspace,
  uri: string,
  { quoted, tokens, base }: Surroundings,
  tables: readonly string[],
): Offer[] {
  if (!quoted) return [];
  const before = nameOf(tokens[tokens.indexOf(quoted) - 1]);
  const all =
    before === 'use'
      ? workspace.known().filter((one) => one !== uri && !workspace.isOfLibrary(one))
      : before === 'from'
        ? tables
        : [];
  return all.flatMap((other): Offer[] => {
    const path = pathFrom(uri, other);
    return path === null ? [] : [{ label: path, kind: 17, rank: 1, from: base + quoted.startOffset + 1 }];
  });
}
