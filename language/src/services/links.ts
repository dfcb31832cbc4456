/** Links out of a text: files that it uses, tables that it reads, and addresses of sources. Only https leaves the machine, and only when it is followed. */
import type { DocumentLink } from 'vscode-languageserver-types';
import { nodesIn } from '../grammar/file.ts';
import type * as ast from '../grammar/generated/ast.ts';
import { scan } from '../grammar/scanner.ts';
import { Places } from '../semantics/problems/places.ts';
import type { Target } from '../semantics/problems/report.ts';
import { toRange } from './positions.ts';
import type { Workspace } from './workspace.ts';

export function linksOf(workspace: Workspace, uri: string): DocumentLink[] | null {
  const source = workspace.source(uri);
  if (!source) return null;
  const places = new Places((at) => workspace.source(at));
  const positions = workspace.positionsOf(uri);
  const links: DocumentLink[] = [];
  for (const { item } of source.blocks.map(({ parsed }) => parsed)) {
    for (const { path, target } of item ? pathsIn(item, uri) : []) {
      const found = workspace.resolve(uri, path);
      if (!('uri' in found)) continue;
      const { start, end } = places.place(target);
      links.push({ range: toRange(positions, { start: start + 1, end: end - 1 }), target: found.uri });
    }
  }
  return [...links, ...sourceLinks(workspace, uri, source.text)];
}

function* pathsIn(item: ast.Item, uri: string): Generator<{ path: string; target: Target }> {
  for (const node of [item, ...nodesIn(item)]) {
    if (node.$type === 'Use' && (node as ast.Use).path)
      yield { path: (node as ast.Use).path!, target: { uri, at: node, property: 'path' } };
    else if (node.$type === 'FromFile' && (node as ast.FromFile).file)
      yield { path: (node as ast.FromFile).file, target: { uri, at: node, property: 'file' } };
  }
}

function sourceLinks(workspace: Workspace, uri: string, text: string): DocumentLink[] {
  const positions = workspace.positionsOf(uri);
  return scan(text).comments.flatMap(({ start, end }) => {
    const comment = text.slice(start, end);
    const from = comment.search(/\bSource:/);
    if (!comment.startsWith('///') || from < 0) return [];
    return [...comment.slice(from).matchAll(/https:\/\/[^\s<>"'`]*[^\s<>"'`.,;:)\]]/g)].map(
      ({ index, 0: address }) => ({
        range: toRange(positions, { start: start + from + index, end: start + from + index + address.length }),
        target: address,
      }),
    );
  });
}
