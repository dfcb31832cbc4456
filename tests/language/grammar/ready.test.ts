/** Trees made beforehand: no reader can tell them from trees that were read. */
import { describe, expect, test } from 'vitest';
import {
  docOf,
  fieldAt,
  nodesIn,
  packed,
  parseFile,
  rangeOf,
  sourceText,
  unpacked,
  type Field,
  type SourceFile,
} from '../../../language/src/grammar/file.ts';
import { diagnosticsOf, piecesOf } from '../../../language/src/services/diagnostics.ts';
import { Workspace } from '../../../language/src/services/workspace.ts';
import { library } from '../../reference/library.ts';
import { diskOf, samples } from '../services/open.ts';

type Node = Field['node'];

const hurdle = `// Chapter 1, hurdles: what is jumped over.

/// A beam.
component Beam {
  /// Its length.
  length: Length as 0.00 in / 0.0 mm
  derive weight: Mass = length * length * length * 7850 kg/m^3 * (1 + 2 * 3)
  rule short: warning { expect length within <= 3 in, because "it sags", adjust length }
}
part B-1: Beam { length: [1: 2, others: 3] in }
`;

/** Both forms of a text, which may not share a tree. */
function both(uri: string, text: string): { read: SourceFile; ready: SourceFile } {
  const kept = JSON.stringify(packed(parseFile(uri, text)));
  return { read: parseFile(uri, text), ready: unpacked(uri, text, JSON.parse(kept) as ReturnType<typeof packed>) };
}

function nodes({ blocks }: SourceFile): Node[] {
  return blocks.flatMap(({ parsed: { item } }) => (item ? [item, ...nodesIn(item)] : []));
}

/** Where a node hangs, and what stands in it that is no node. */
function shapeOf(node: Node): unknown {
  const plain = Object.entries(node).filter(([name, value]) => !name.startsWith('$') && typeof value !== 'object');
  return [node.$type, node.$container?.$type, node.$containerProperty, node.$containerIndex, plain];
}

describe.each([
  ['a hurdle', 'file:///hurdle.thou', hurdle] as const,
  ...library.files.map(({ uri, text }) => [uri.split('/').at(-1)!, uri, text] as const),
])('%s', (_, uri, text) => {
  const { read, ready } = both(uri, text);

  test('the same nodes in the same places, with the same words and texts', () => {
    const [then, now] = [nodes(read), nodes(ready)];
    expect(now.length).toBe(then.length);
    expect(now.map(shapeOf)).toEqual(then.map(shapeOf));
    expect(now.map((node) => rangeOf(node))).toEqual(then.map((node) => rangeOf(node)));
    expect(now.map(sourceText)).toEqual(then.map(sourceText));
    expect(now.map(docOf)).toEqual(then.map(docOf));
  });

  test('single words are found, and lead back to the ready nodes', () => {
    const ofReady = new Set(nodes(ready));
    read.blocks.forEach(({ parsed }, at) => {
      const other = ready.blocks[at]!.parsed;
      for (let offset = 0; offset < parsed.text.length; offset += 3) {
        const [then, now] = [fieldAt(parsed, offset), fieldAt(other, offset)];
        expect([now?.property, now?.index, now?.start, now?.end, now?.node.$type]).toEqual([
          then?.property,
          then?.index,
          then?.start,
          then?.end,
          then?.node.$type,
        ]);
        if (now) {
          expect(ofReady.has(now.node)).toBe(true);
          expect(rangeOf({ node: now.node, property: now.property, index: now.index! })).toEqual(
            rangeOf({ node: then!.node, property: then!.property, index: then!.index! }),
          );
        }
      }
    });
  });
});

test('a text with a mistake is not made ready', () => {
  expect(() => packed(parseFile('file:///wrong.thou', 'component {'))).toThrow('wrong.thou cannot be made ready');
});

test('on a ready library every sample comes out the same', () => {
  const ready = {
    ...library,
    files: library.files.map(({ uri, text }) => ({ uri, text, ready: () => packed(parseFile(uri, text)) })),
  };
  const files = new Map([...samples].map(([path, text]) => [`file:///${path}`, text]));
  const reader = { client: {}, pages: '', spelled: (uri: string) => uri };
  const told = (on: typeof library) => {
    const workspace = new Workspace(diskOf(files), on);
    return [...files.keys()].map((uri) => {
      for (const piece of piecesOf(workspace, uri)) piece();
      return diagnosticsOf(workspace, uri, reader);
    });
  };
  expect(told(ready)).toEqual(told(library));
});
