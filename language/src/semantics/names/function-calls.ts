/**
 * Which functions call which: a function is written out at every call, so that one that calls itself, or calls too many,
 * cannot be taken. Knows calls by name only; no types.
 */
import { AstUtils } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import { caps } from '@thou/shared/limits';

interface Called {
  readonly name: string;
  readonly at: ast.Ref;
}

interface Cost {
  /** Functions written out for one call, the function itself included. */
  readonly calls: number;
  readonly depth: number;
}

export class FunctionCalls {
  private readonly called: ReadonlyMap<string, readonly Called[]>;
  private readonly costs = new Map<string, Cost>();
  private readonly circular: ReadonlySet<string>;

  constructor(functions: ReadonlyMap<string, { readonly item: ast.FunctionDeclaration }>) {
    this.called = new Map([...functions].map(([name, { item }]) => [name, callsIn(item, functions)]));
    this.settleCosts();
    const unsettled = new Set([...this.called.keys()].filter((name) => !this.costs.has(name)));
    this.circular = this.withoutCallersOnly(unsettled);
  }

  /** Null where it calls itself in the end, or calls one that does. */
  cost(name: string): number | null {
    return this.costs.get(name)?.calls ?? null;
  }

  isTooLong(name: string): boolean {
    const cost = this.costs.get(name);
    return cost !== undefined && (cost.calls > caps.calls || cost.depth > caps.nesting);
  }

  /** The calls by which a function leads back to itself. */
  circlesOf(name: string): readonly ast.Ref[] {
    if (!this.circular.has(name)) return [];
    return (this.called.get(name) ?? []).filter((call) => this.circular.has(call.name)).map(({ at }) => at);
  }

  /** Called ones before those that call them; what is left over leads into a circle. */
  private settleCosts(): void {
    const callers = new Map<string, string[]>();
    const waiting = new Map<string, number>();
    for (const [name, calls] of this.called) {
      waiting.set(name, calls.length);
      for (const call of calls) push(callers, call.name, name);
    }
    const ready = [...this.called.keys()].filter((name) => waiting.get(name) === 0);
    for (let name = ready.pop(); name !== undefined; name = ready.pop()) {
      const below = (this.called.get(name) ?? []).map((call) => this.costs.get(call.name)!);
      const calls = below.reduce((all, one) => Math.min(all + one.calls, caps.calls + 1), 1);
      this.costs.set(name, { calls, depth: below.reduce((most, { depth }) => Math.max(most, depth + 1), 1) });
      for (const caller of callers.get(name) ?? []) {
        waiting.set(caller, waiting.get(caller)! - 1);
        if (waiting.get(caller) === 0) ready.push(caller);
      }
    }
  }

  /** Functions that call into a circle without being called from one are not in it. */
  private withoutCallersOnly(names: ReadonlySet<string>): ReadonlySet<string> {
    const left = new Set(names);
    const callsTo = new Map<string, number>();
    const called = (name: string): string[] => (this.called.get(name) ?? []).map((call) => call.name).filter((one) => left.has(one));
    for (const name of left) for (const one of called(name)) callsTo.set(one, (callsTo.get(one) ?? 0) + 1);
    const free = [...left].filter((name) => !callsTo.get(name));
    for (let name = free.pop(); name !== undefined; name = free.pop()) {
      for (const one of called(name)) {
        callsTo.set(one, callsTo.get(one)! - 1);
        if (callsTo.get(one) === 0) free.push(one);
      }
      left.delete(name);
    }
    return left;
  }
}

function callsIn(item: ast.FunctionDeclaration, functions: ReadonlyMap<string, unknown>): Called[] {
  const calls: Called[] = [];
  for (const node of AstUtils.streamAllContents(item)) {
    const head = node.$type === 'Ref' ? (node as ast.Ref).steps[0] : undefined;
    if (head?.call && functions.has(head.name)) calls.push({ name: head.name, at: node as ast.Ref });
  }
  return calls;
}

function push(lists: Map<string, string[]>, key: string, value: string): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}
