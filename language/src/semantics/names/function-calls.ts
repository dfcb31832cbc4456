/**
 * Which functions call which: a function is written out at every call, so that one that calls itself, or calls too many,
 * cannot be taken. Knows calls by name only; no types.
 */
import { nodesIn } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { caps } from '@thou/shared/limits';
import { Graph } from './graph.ts';

interface Called {
  readonly name: string;
  readonly at: ast.Ref;
}

export class FunctionCalls {
  private readonly called: ReadonlyMap<string, readonly Called[]>;
  private readonly graph: Graph;

  constructor(functions: ReadonlyMap<string, { readonly item: ast.FunctionDeclaration }>) {
    this.called = new Map([...functions].map(([name, { item }]) => [name, callsIn(item, functions)]));
    const arrows = new Map([...this.called].map(([name, calls]) => [name, calls.map((call) => call.name)]));
    this.graph = new Graph(arrows, { size: caps.calls, depth: caps.nesting });
  }

  /** Functions written out for one call, itself included; null where it cannot be written out. */
  cost(name: string): number | null {
    return this.graph.isCircular(name) || this.isTooLong(name) ? null : this.graph.unfoldedOf(name).size;
  }

  isTooLong(name: string): boolean {
    const { size, depth } = this.graph.unfoldedOf(name);
    return size > caps.calls || depth > caps.nesting;
  }

  /** The calls by which a function leads back to itself. */
  circlesOf(name: string): readonly ast.Ref[] {
    if (!this.graph.isCircular(name)) return [];
    return (this.called.get(name) ?? []).filter((call) => this.graph.isCircular(call.name)).map(({ at }) => at);
  }
}

function callsIn(item: ast.FunctionDeclaration, functions: ReadonlyMap<string, unknown>): Called[] {
  const calls: Called[] = [];
  for (const node of nodesIn(item)) {
    const head = node.$type === 'Ref' ? (node as ast.Ref).steps[0] : undefined;
    if (head?.call && functions.has(head.name)) calls.push({ name: head.name, at: node as ast.Ref });
  }
  return calls;
}
