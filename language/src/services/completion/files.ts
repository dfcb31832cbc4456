/** File names in the quotes of `use` and `from`. */
import { endOf, nameOf } from '../../grammar/tokens.ts';
import { pathFrom } from '../paths.ts';
import type { Workspace } from '../workspace.ts';
import type { Offer } from './offer.ts';
import type { Surroundings } from './probe.ts';

export function filesAt(workspace: Workspace, uri: string, { quoted, tokens, base, text }: Surroundings): Offer[] {
  if (!quoted) return [];
  const before = nameOf(tokens[tokens.indexOf(quoted) - 1]);
  const all =
    before === 'use'
      ? workspace.known().filter((one) => one !== uri && !workspace.isOfLibrary(one))
      : before === 'from'
        ? workspace.tables()
        : [];
  const from = base + quoted.startOffset + 1;
  const end = endOf(quoted);
  const isClosed = end - quoted.startOffset > 1 && text.charAt(end - 1) === '"';
  return all.flatMap((other): Offer[] => {
    const path = pathFrom(uri, other);
    return path === null ? [] : [{ label: path, kind: 17, rank: 1, from, to: base + end - (isClosed ? 1 : 0) }];
  });
}
