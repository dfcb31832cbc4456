/**
 * What the words of a text were found to stand for, noted while they are read. Whoever asks afterwards (hover, rename)
 * finds what the reader found; nothing looks a name up a second time.
 */
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import type { SlotId } from '../ir.ts';
import type { MountId, Origin, Schema } from '../schema/schema.ts';
import type { AxisId, ExprType } from '../types/type.ts';
import type { Target } from './report.ts';

/** A schema, or one that is still being laid out. */
export type Laid = Pick<Schema, 'slots' | 'mounts' | 'axes' | 'rules'>;

/** Numbers of slots, mounts and axes are those of the draft. */
export type Thing =
  | { readonly is: 'slot'; readonly draft: Laid; readonly slot: SlotId }
  | { readonly is: 'mount'; readonly draft: Laid; readonly mount: MountId }
  | { readonly is: 'axis'; readonly draft: Laid; readonly axis: AxisId }
  | { readonly is: 'label'; readonly draft: Laid; readonly axis: AxisId; readonly label: string }
  | { readonly is: 'choice'; readonly name: string; readonly type: ast.Type | null; readonly uri: string | null }
  | { readonly is: 'local'; readonly uri: string; readonly declared: AstNode; readonly type: ExprType }
  | { readonly is: 'function' | 'part'; readonly origin: Origin }
  | { readonly is: 'rule'; readonly draft: Laid; readonly id: string };

export interface Noted {
  readonly at: Target;
  readonly thing: Thing;
}

export class Names {
  private readonly noted: Noted[] = [];
  private indexed = 0;
  private readonly index = new Map<AstNode, Noted[]>();

  note(at: Target, thing: Thing): void {
    this.noted.push({ at, thing });
  }

  /** A declaration is read once for every mount that holds it: there may be several. */
  of(node: AstNode): readonly Noted[] {
    for (; this.indexed < this.noted.length; this.indexed++) {
      const one = this.noted[this.indexed]!;
      const known = this.index.get(one.at.at);
      if (known) known.push(one);
      else this.index.set(one.at.at, [one]);
    }
    return this.index.get(node) ?? [];
  }

  all(): readonly Noted[] {
    return this.noted;
  }
}
