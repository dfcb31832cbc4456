// The drawings of one sheet, each made once when somebody looks, and the ways between a figure and the drawings that show it.
import type { SheetDrawing } from '@thou/shared/result/sheet';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import { pathWords } from '../check-words.ts';
import { drawingOf } from '../drawings/drawings.ts';
import { pathsOf, type DrawingPlan } from '../drawings/plan.ts';
import { capitalised } from '../place.ts';
import type { Homes } from './homes.ts';
import type { Block, GridBlock, GridRow, SheetLink } from './document.ts';

export class Drawn {
  private readonly outcome: Outcome;
  private readonly plans: readonly DrawingPlan[];
  private readonly homes: Homes;
  private readonly made = new Map<DrawingPlan, SheetDrawing | null>();
  private readonly build: string;

  constructor(outcome: Outcome, plans: readonly DrawingPlan[], homes: Homes) {
    this.outcome = outcome;
    this.plans = plans;
    this.homes = homes;
    this.build = outcome.binding.name.replaceAll(/[^\w.-]/gu, (mark) => `_${mark.codePointAt(0)!.toString(36)}_`);
  }

  blocks(plans: readonly DrawingPlan[]): Block[] {
    return plans.flatMap((plan) => {
      const drawing = this.of(plan);
      return drawing ? [{ is: 'drawing', drawing, anchor: this.anchorOf(plan), figures: this.figuresOf(plan) }] : [];
    });
  }

  /** Beside each figure the drawings that show it. */
  linked(grid: GridBlock): GridBlock {
    const linked = (row: GridRow): GridRow => {
      if (row.further || row.name === '') return row;
      const path = row.address.replaceAll(/\[[^\]]*\]/g, '');
      const drawings = this.showing(path);
      return drawings.length === 0 ? row : { ...row, anchor: this.rowAnchor(path), drawings };
    };
    return { ...grid, groups: grid.groups.map((group) => ({ ...group, rows: group.rows.map(linked) })) };
  }

  private of(plan: DrawingPlan): SheetDrawing | null {
    const known = this.made.get(plan);
    if (known !== undefined) return known;
    const drawing = drawingOf(this.outcome, plan);
    this.made.set(plan, drawing);
    return drawing;
  }

  private showing(path: string): SheetLink[] {
    return this.plans
      .filter((plan) => pathsOf(plan).includes(path) && this.of(plan) !== null)
      .map((plan) => ({ text: plan.title, anchor: this.anchorOf(plan), part: this.homes.ofDrawing(plan) }));
  }

  private figuresOf(plan: DrawingPlan): SheetLink[] {
    return [...new Set(pathsOf(plan))].flatMap((path) => {
      const part = this.homes.ofFigure(path);
      return part === null ? [] : [{ text: capitalised(pathWords(path)), anchor: this.rowAnchor(path), part }];
    });
  }

  private anchorOf({ name }: DrawingPlan): string {
    return `drawing-${name}-${this.build}`;
  }

  private rowAnchor(path: string): string {
    return `row-${path}-${this.build}`;
  }
}
