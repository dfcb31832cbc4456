// Which files a file names: those it uses and the tables it reads. Knows paths as written; the workspace resolves them.
import type { AstNode } from 'langium';
import { nodesIn, type ParsedBlock, type SourceFile } from '../grammar/file.ts';
import type * as ast from '../grammar/generated/ast.ts';

const named = new WeakMap<ParsedBlock, readonly string[]>();

/** The paths as they are written, each once. */
export function pathsIn(source: SourceFile): string[] {
  return [...new Set(source.blocks.flatMap(({ parsed }) => pathsOf(parsed)))];
}

/** A block that an edit leaves alone is not walked again. */
function pathsOf(block: ParsedBlock): readonly string[] {
  const known = named.get(block);
  if (known) return known;
  const paths = /\b(use|from)\b/.test(block.text) ? walked(block) : [];
  named.set(block, paths);
  return paths;
}

function walked({ item }: ParsedBlock): string[] {
  if (!item) return [];
  const nodes = item.$type === 'Use' ? [item] : nodesIn(item);
  return [...nodes].map(pathOf).filter((path) => path !== undefined && path !== '') as string[];
}

function pathOf(node: AstNode): string | undefined {
  if (node.$type === 'Use') return (node as ast.Use).path;
  return node.$type === 'FromFile' ? (node as ast.FromFile).file : undefined;
}
