/** Hears what formulas say beside their values: why cells are missing, and slips in the text that show with sizes known. */
import { caps } from '@thou/shared/limits';
import type { AstNode } from 'langium';
import type { Axis } from '../evaluate/value.ts';
import type { AxisKey } from '../ir.ts';
import type { Origin, SchemaAxis } from '../schema/schema.ts';
import type { Figure } from './figures.ts';
import type { PlanProblem } from './outcome.ts';

export interface Heard {
  readonly why: string[];
  readonly problems: PlanProblem[];
}

export class Listener {
  private readonly open: Heard[] = [];
  /** Slips that belong to no value: keys off their axes, axes too large, sides of checks. */
  readonly slips: PlanProblem[] = [];

  /** Everything said while `task` runs, except inside further calls, goes to `heard`. */
  during<T>(heard: Heard, task: () => T): T {
    this.open.push(heard);
    try {
      return task();
    } finally {
      this.open.pop();
    }
  }

  hear(reason: string): void {
    const why = this.open.at(-1)?.why;
    if (why !== undefined && !why.includes(reason)) why.push(reason);
  }

  slip(code: string, args: Readonly<Record<string, string>>, at: AstNode | null, about: Origin): void {
    this.open.at(-1)?.problems.push(problemAt(code, args, at, about));
  }

  tooLarge(axis: SchemaAxis, size: number): void {
    this.slips.push(
      problemAt(
        'list.too-large',
        { what: axis.name, here: String(size), due: String(caps.axisSize) },
        null,
        axis.origin,
      ),
    );
  }

  offAxis(key: AxisKey, axis: Axis, figure: Figure): void {
    const args = { key: key.label ?? String(key.number), axis: axis.name };
    this.slips.push(problemAt('list.no-such-place', args, key.at, figure.source.origin));
  }
}

function problemAt(
  code: string,
  args: Readonly<Record<string, string>>,
  at: AstNode | null,
  about: Origin,
): PlanProblem {
  return { code, severity: 'error', args, origin: at === null ? about : { uri: about.uri, at }, related: [] };
}
