// The declarations of a chapter in the order in which they are written, each with its id and the component that it belongs to.
import type { AstNode } from 'langium';
import type { SourceFile } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';

export type DeclaredItem =
  | ast.Component
  | ast.Declaration
  | ast.FunctionDeclaration
  | ast.Part
  | ast.Practice
  | ast.UnitDeclaration
  | ast.DimensionDeclaration;

export interface DeclaredThing {
  readonly item: DeclaredItem;
  readonly id: string;
  readonly owner: string | null;
  /** What the remark `// ---- title` above it says. */
  readonly section: string;
}

/** What belongs to every component. */
export const everyComponent = 'any';

/** `root`: what stands in no component belongs to this one. */
export function declaredIn(source: SourceFile, root: string): DeclaredThing[] {
  const sections = sectionMarks(source.text);
  return source.blocks.flatMap(({ offset, parsed }) => {
    const section = sections.findLast((one) => one.offset <= offset)?.title ?? '';
    return parsed.item ? thingsOf(parsed.item, root).map((thing) => ({ ...thing, section })) : [];
  });
}

function sectionMarks(text: string): { readonly offset: number; readonly title: string }[] {
  return [...text.matchAll(/^\/\/ -{3,} *(.+?)[ -]*$/gm)].map((match) => ({ offset: match.index, title: match[1]! }));
}

function thingsOf(item: ast.Item, root: string): Omit<DeclaredThing, 'section'>[] {
  switch (item.$type) {
    case 'Component':
      return [{ item, id: item.name, owner: null }, ...insideOf(item.body, item.name)];
    case 'Extend':
      return insideOf(item.body, item.target);
    case 'Derive':
    case 'Rule':
    case 'Axis':
      return insideOf({ declarations: [item] }, root);
    case 'FunctionDeclaration':
      return [{ item, id: `function.${item.name}`, owner: null }];
    case 'Part':
      return [{ item, id: `part.${plain(item.name)}`, owner: null }];
    case 'Practice':
      return [{ item, id: `practice.${plain(item.label)}`, owner: null }];
    case 'UnitDeclaration':
      return [{ item, id: `unit.${plain(item.name)}`, owner: null }];
    case 'DimensionDeclaration':
      return [{ item, id: `kind.${item.name}`, owner: null }];
    default:
      return [];
  }
}

function insideOf(
  body: { readonly declarations: readonly ast.Declaration[] } | undefined,
  owner: string,
): Omit<DeclaredThing, 'section'>[] {
  return (body?.declarations ?? []).map((item) => {
    const sort = item.$type === 'Rule' ? 'rule.' : item.$type === 'Axis' ? 'axis.' : '';
    return { item, id: `${owner}.${sort}${item.name}`, owner };
  });
}

/** Letters, digits, points and dashes only: what may stand in an address as it is. */
function plain(name: string | undefined): string {
  return (name ?? '').replace(/[^\w.-]+/g, '-');
}

export function idsOf(things: readonly DeclaredThing[]): ReadonlyMap<AstNode, string> {
  return new Map(things.map(({ item, id }) => [item, id]));
}
