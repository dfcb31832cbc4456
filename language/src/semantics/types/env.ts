/** What an expression is read in: the mount it belongs to, its file, its locals, and what is due. */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { Unit } from '@thou/shared/unit/unit';
import type { Report, Target } from '../problems/report.ts';
import type { Library } from '../names/library.ts';
import type { Draft } from '../schema/draft.ts';
import type { MountId } from '../schema/schema.ts';
import type { SlotId } from '../ir.ts';
import type { AxisId, ValueType } from './type.ts';
import type { Locals } from './locals.ts';

/** Parts that a file sees, and sizes that can be bought. */
export interface PartsSeen {
  find(name: string): PartSeen | undefined;
  names(component?: string): readonly string[];
  all(component: string): readonly PartSeen[];
  /** False where a file or an entry that could hold parts was not read: then a name that is not found is no mistake. */
  readonly complete: boolean;
}
export interface PartSeen {
  readonly item: ast.Part;
  readonly uri: string;
}

/** Reads files that stand beside the text; the host decides what may be read. */
export interface TextFiles {
  read(
    from: string,
    path: string,
  ):
    | { readonly uri: string; readonly text: string }
    | { readonly problem: 'not-found' | 'refused'; readonly why: string };
}

export interface Env {
  readonly draft: Draft;
  readonly library: Library;
  readonly mount: MountId;
  readonly uri: string;
  readonly report: Report;
  readonly locals: Locals | null;
  readonly parts: PartsSeen;
  readonly files: TextFiles;
  /** The unit that a figure without one takes from the end of its list or range. */
  readonly unit: Unit | null;
  /** Where `was` is allowed: the slot that is being set. */
  readonly was: SlotId | null;
  /** Whether a function is being written out. */
  readonly isInFunction: boolean;
  /** How many functions were written out in this formula so far. */
  readonly written: { calls: number };
}

/** What is due at a place; null type: anything. */
export interface Due {
  readonly type: ValueType | null;
  /** Axes that a list may run along, outermost first. */
  readonly axes: readonly AxisId[];
  /** What the figure is for, in messages. */
  readonly what: string;
  /** The unit that the figure is shown in, as it is written. */
  readonly unit?: string | undefined;
}

export function due(type: ValueType | null, axes: readonly AxisId[] = [], what = 'this', unit?: string): Due {
  return { type, axes, what, unit };
}

/** For what the figure is worked out from, cell by cell: of whatever kind, but along the same axes. */
export function workedFrom({ axes }: Due): Due {
  return due(null, axes);
}

export function target(env: Env, at: AstNode, property?: string, index?: number): Target {
  return { uri: env.uri, at, property, index };
}
