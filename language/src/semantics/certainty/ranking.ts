/** What makes a figure unsure, the largest part first; and what all parts come to, by several ways of adding them. */
import type { Expr, SlotId } from '../ir.ts';
import type { Plan } from '../plan/run.ts';
import { rootSumSquare, worstCase } from '../plan/sensitivities.ts';
import type { Spread } from '../plan/sensitivities.ts';
import type { Source } from '../plan/unsure.ts';

/** One source's part in one cell. All in SI of the quantity. */
export interface Part {
  readonly source: Source;
  /** How far the figure moves as the source moves up by its half width. */
  readonly moves: number;
  /** The standard uncertainty that it alone would leave. */
  readonly uncertainty: number;
  /** Of the variance, 0 to 1. */
  readonly share: number;
}

export interface Stack {
  /** The figure with all that is unsure at its middle. */
  readonly middle: number;
  /** Greatest distance from it that all bounded sources bring about together. */
  readonly worstCase: number;
  /** Half width by root-sum-square of the bounded sources: independent, centred parts. */
  readonly rootSumSquare: number;
  /** The same, one and a half times as much: for makers whose spread is not known. Source: A. Bender 1962 (from memory). */
  readonly inflated: number;
  /** Standard uncertainty from all sources, bounded or not. */
  readonly uncertainty: number;
  /** Largest first. */
  readonly parts: readonly Part[];
}

const inflation = 1.5;
/** Of the whole: what cancels may leave the last bits of its figures. */
const rounding = 1e-9;

/** By cell of the slot, or of the expression, as measured. */
export function stackOf(plan: Plan, of: SlotId | Expr): readonly Stack[] {
  const spread = typeof of === 'number' ? plan.sensitivities().ofSlot(of) : plan.sensitivities().ofExpr(of);
  const uncertainties = rootSumSquare(spread);
  const worst = worstCase(spread);
  return Array.from(spread.middle, (middle, cell) => {
    const parts = partsOf(spread, cell, uncertainties[cell]!);
    const bounded = Math.hypot(...parts.filter(isBounded).map(({ moves }) => moves));
    return {
      middle,
      worstCase: worst[cell]!,
      rootSumSquare: bounded,
      inflated: inflation * bounded,
      uncertainty: uncertainties[cell]!,
      parts,
    };
  });
}

function isBounded({ source }: Part): boolean {
  return source.sort === 'tolerance' || source.sort === 'stated';
}

function partsOf({ moves }: Spread, cell: number, whole: number): readonly Part[] {
  return moves
    .map(({ source, by }) => {
      const uncertainty = Math.abs(by[cell]! * source.deviation);
      return { source, moves: by[cell]!, uncertainty, share: (uncertainty / whole) ** 2 };
    })
    .filter(({ uncertainty }) => uncertainty > rounding * whole)
    .sort((a, b) => b.uncertainty - a.uncertainty);
}

/** Correlation of two cells, −1 to 1: what both owe to the same sources. NaN where either is sure. Source: JCGM 100:2008, 5.2.2. */
export function correlation(a: Stack, b: Stack): number {
  const other = new Map(b.parts.map(({ source, moves }) => [source.id, moves]));
  const both = a.parts.reduce(
    (sum, { source, moves }) => sum + moves * (other.get(source.id) ?? 0) * source.deviation ** 2,
    0,
  );
  return both / (a.uncertainty * b.uncertainty);
}
