/** Makes the ready form of a text: done when the language is put together, never while it runs. */
import type { SourceFile } from './file.ts';
import { rangeOf } from './places.ts';
import { fieldsOf, isNode, type Packed, type ReadyFile } from './ready.ts';

/** Of a text without a problem; throws for any other. */
export function packed(file: SourceFile): ReadyFile {
  const [problem] = file.problems;
  if (problem) throw new Error(`${file.uri} cannot be made ready: ${problem.message}`);
  return { blocks: file.blocks.map(({ parsed: { item } }) => (item === undefined ? null : (pack(item) as Packed))) };
}

function pack(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(pack);
  if (!isNode(value)) return value;
  const { start, end } = rangeOf(value);
  const holds = Object.fromEntries(fieldsOf(value).map(([name, held]) => [name, pack(held)]));
  return { at: [start, end], sort: value.$type, holds } satisfies Packed;
}
