/** Names that live inside one formula: parameters, `where` figures, unknowns. Each is read once, when first used. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Expr } from '../ir.ts';

export interface LocalValue {
  readonly local: number;
  readonly name: string;
  readonly value: Expr | null;
}

type State =
  | { readonly is: 'ready'; readonly local: number; readonly value: Expr; readonly at: AstNode }
  | { readonly is: 'waiting'; readonly item: ast.Local }
  | { readonly is: 'reading' };

/** Numbers count on through nested scopes, so that a local is found by number alone while evaluating. */
export class Locals {
  private readonly entries = new Map<string, State>();
  /** In the order in which they were first needed: each needs only those before it. */
  readonly order: LocalValue[] = [];
  private readonly outer: Locals | null;
  private readonly counter: { next: number };

  constructor(outer: Locals | null) {
    this.outer = outer;
    this.counter = outer?.counter ?? { next: 0 };
  }

  /** `at`: where the name is declared. */
  bind(name: string, value: Expr, at: AstNode): number {
    const local = this.counter.next++;
    this.entries.set(name, { is: 'ready', local, value, at });
    this.order.push({ local, name, value });
    return local;
  }

  /** An unknown of a search: it has a type but no value of its own. */
  unknown(name: string, like: Expr, at: AstNode): number {
    const local = this.counter.next++;
    this.entries.set(name, { is: 'ready', local, value: like, at });
    return local;
  }

  await(item: ast.Local): void {
    this.entries.set(item.name, { is: 'waiting', item });
  }

  /** The local of this name, read now if it was not; 'circle' where it is needed to read itself. */
  find(
    name: string,
    read: (item: ast.Local, locals: Locals) => Expr,
  ): { readonly local: number; readonly value: Expr; readonly at: AstNode } | 'circle' | null {
    const state = this.entries.get(name);
    if (!state) return this.outer?.find(name, read) ?? null;
    if (state.is === 'reading') return 'circle';
    if (state.is === 'ready') return state;
    this.entries.set(name, { is: 'reading' });
    const value = read(state.item, this);
    const local = this.bind(name, value, state.item);
    return { local, value, at: state.item };
  }

  names(): string[] {
    return [...this.entries.keys(), ...(this.outer?.names() ?? [])];
  }
}

/** `body` with the locals it needs bound round it. */
export function boundRound(body: Expr, locals: Locals): Expr {
  return locals.order.reduceRight<Expr>(
    (inner, { local, name, value }) =>
      value === null ? inner : { op: 'let', local, name, value, body: inner, type: inner.type, at: inner.at },
    body,
  );
}
