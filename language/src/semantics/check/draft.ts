/** What is to be judged, before it is judged: rules of the trade library and the shop, what the build itself demands. */
import type { ExpectGiven } from '../bind/binding.ts';
import type { Axis } from '../evaluate/value.ts';
import type { Expr, SlotId } from '../ir.ts';
import type { Severity } from '../plan/outcome.ts';
import type { Comparison, Origin, SchemaRule } from '../schema/schema.ts';

export interface Draft {
  readonly id: string;
  readonly kind: 'rule' | 'expect' | 'to-size';
  readonly severity: Severity;
  readonly rule: SchemaRule | null;
  readonly expect: ExpectGiven | null;
  readonly slot: SlotId | null;
  readonly when: Expr | null;
  readonly comparisons: readonly Comparison[];
  readonly flag: Expr | null;
  readonly because: string | null;
  readonly origin: Origin;
  /** Cells of a comparison that count no longer, along its own axes. */
  readonly spent: ReadonlyMap<Comparison, { readonly axes: readonly Axis[]; readonly spent: Uint8Array }>;
}

export function draftOfRule(rule: SchemaRule): Draft {
  const { id, severity, when, because, origin, demand } = rule;
  return {
    id,
    kind: 'rule',
    severity,
    rule,
    expect: null,
    slot: demand.comparisons.find((one) => one.slot !== null)?.slot ?? null,
    when,
    comparisons: demand.comparisons,
    flag: demand.flag,
    because,
    origin,
    spent: new Map(),
  };
}

export function draftOfExpect(expect: ExpectGiven, comparisons: readonly Comparison[], spent: Draft['spent']): Draft {
  return {
    id: expect.text.startsWith('expect') ? expect.text : `expect ${expect.text}`,
    kind: 'expect',
    severity: 'error',
    rule: null,
    expect,
    slot: comparisons.find((one) => one.slot !== null)?.slot ?? null,
    when: null,
    comparisons,
    flag: expect.demand.flag,
    because: expect.because,
    origin: expect.origin,
    spent,
  };
}
