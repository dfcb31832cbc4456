// A sheet put together: what the trade library says stands on it, made from the outcome of one build. Decides no layout and no wording of the trade.
import type { SheetDrawing } from '@thou/shared/result/sheet';
import type { CheckOutcome, Outcome } from '../../semantics/plan/outcome.ts';
import { drawingOf } from '../drawings/drawings.ts';
import type { DrawingPlan } from '../drawings/plan.ts';
import { ordersOf } from '../orders.ts';
import { docText, placeInWords } from '../place.ts';
import { readAgainOf } from '../read-again.ts';
import { sectionPlans, type SectionPlan } from '../sections.ts';
import {
  causesText,
  findingsOn,
  historyLines,
  mistakesText,
  readingsOf,
  summary,
  type SheetModelOptions,
} from '../sheet.ts';
import { listsOf } from '../tasks.ts';
import { cutTables, hasCuts } from './cuts.ts';
import type { Block, Part, SheetDocument } from './document.ts';
import { Drawn } from './drawn.ts';
import { figuresGrid, knownAt, type Rows } from './figures.ts';
import { chapterPiece, drawingHomes, homelessPart, homesIn } from './homes.ts';
import { partsTable } from './parts-list.ts';
import { withSteps } from './with-steps.ts';
import type { FindingsPart, PartPlan, PlainPart, SheetPlan, StepsPart } from './plan.ts';
import { readingsGrid } from './readings.ts';
import { gridOf } from './tables.ts';

export interface SheetOptions extends SheetModelOptions {
  readonly drawings: readonly DrawingPlan[];
  /** Each figure with one step of what it is made of and what uses it. */
  readonly apart?: boolean;
}

export function sheetDocument(outcome: Outcome, plan: SheetPlan, options: SheetOptions): SheetDocument {
  const look = new Look(outcome, options);
  const parts = plan.parts.flatMap((part, at) => look.partsBy(part, `${part.is}-${at}`));
  return {
    kind: plan.name,
    build: outcome.binding.name,
    title: `${plan.title}: ${outcome.binding.name}${variantWords(outcome)}`,
    summary: summary(outcome),
    head: headOf(outcome, plan, options),
    parts: options.apart === true ? parts.map((part) => withSteps(outcome, part, options.files)) : parts,
  };
}

function variantWords({ binding }: Outcome): string {
  return binding.base === null ? '' : `, a variant of ${binding.base.name}`;
}

function headOf(outcome: Outcome, { whole }: SheetPlan, { files, edition, mistakes }: SheetOptions): Block[] {
  const { binding } = outcome;
  const from = [
    placeInWords(files.placeOf(binding.origin)),
    edition === null ? '' : `trade library edition ${edition}`,
  ];
  const head: Block[] = [{ is: 'text', look: 'from', text: from.filter((part) => part !== '').join(', ') }];
  if (whole === true)
    for (const line of docText(binding.doc).split('\n'))
      if (line.trim() !== '') head.push({ is: 'text', look: 'plain', text: line.trim() });
  if (mistakes > 0) head.push({ is: 'text', look: 'mistake', text: mistakesText(mistakes) });
  if (whole !== true) return head;
  return [
    ...head,
    { is: 'text', look: 'summary', text: summary(outcome) },
    {
      is: 'text',
      look: 'note',
      text: 'Figures without a note are as given, or worked out on paper: not all under them is measured. Figures marked ! are out of limits or at risk.',
    },
  ];
}

/** What the parts of one sheet share. */
class Look {
  private readonly outcome: Outcome;
  private readonly options: SheetOptions;

  constructor(outcome: Outcome, options: SheetOptions) {
    this.outcome = outcome;
    this.options = options;
  }

  partsBy(plan: PartPlan, id: string): Part[] {
    if (plan.is === 'chapters') return this.chapters(plan.folded === true);
    if (plan.is === 'blanks') return [part(id, { title: '' }, [{ is: 'blanks', names: plan.names }])];
    if (plan.folded === true && this.isThere(plan.is)) return [foldedPart(id, plan, () => this.blocksOf(plan))];
    const blocks = this.blocksOf(plan);
    return blocks.length === 0 ? [] : [part(id, plan, blocks)];
  }

  /** Told without working out what stands there. */
  private isThere(is: PartPlan['is']): boolean {
    const { toMeasure, readAgain, binding, checks } = this.outcome;
    if (is === 'causes') return checks.filter(({ state }) => state === 'out-of-limits').length > 1;
    if (is === 'to-measure') return toMeasure.length > 0;
    if (is === 'read-again') return readAgain.length > 0;
    return is === 'history' && binding.history.length > 0;
  }

  private blocksOf(plan: Exclude<PartPlan, { is: 'chapters' | 'blanks' }>): Block[] {
    const { outcome } = this;
    switch (plan.is) {
      case 'cuts':
        return hasCuts(outcome)
          ? cutTables(outcome, plan)
          : [{ is: 'text', look: 'plain', text: 'Nothing is ordered, and nothing was read that is out of its size.' }];
      case 'figures': {
        const grid = figuresGrid(outcome, plan.title, plan.figures, this.rows());
        return grid ? [grid] : [];
      }
      case 'findings':
        return this.findings(plan);
      case 'parts':
        return partsTable(outcome, plan);
      case 'steps':
        return this.steps(plan);
      default:
        return this.plain(plan);
    }
  }

  private plain({ is, title }: PlainPart): Block[] {
    const { outcome, options } = this;
    switch (is) {
      case 'to-measure': {
        const readings = readingsOf(outcome, options);
        const told = readings.some(({ why }) => why !== '');
        const rows = readings.map(({ path, label, settles, why }) => ({
          cells: [{ text: label, address: path }, settles, ...(told ? [why] : [])],
        }));
        const heads = ['Figure', 'Settles', ...(told ? ['Why'] : [])];
        const none: Block = { is: 'text', look: 'plain', text: 'Nothing is left to be measured.' };
        return rows.length === 0 ? [none] : [{ is: 'table', caption: 'What settles most comes first', heads, rows }];
      }
      case 'read-again': {
        const rows = readAgainOf(outcome).map(({ label, address, read, since }) => ({
          cells: [{ text: label, address }, read, since],
        }));
        const heads = ['Figure', 'Read', 'What came after'];
        return rows.length === 0 ? [] : [{ is: 'table', caption: title, heads, rows }];
      }
      case 'readings': {
        const readings = readingsOf(outcome, options);
        return readings.length === 0
          ? [{ is: 'text', look: 'plain', text: 'Nothing is left to be measured.' }]
          : [readingsGrid(title, readings)];
      }
      case 'to-buy': {
        const rows = ordersOf(outcome).map(({ label, address, size, count, from }) => ({
          cells: [
            { text: label, address },
            { text: size, is: 'number' as const },
            { text: String(count), is: 'number' as const },
            from,
          ],
        }));
        const heads = ['What', 'Size', 'How many', 'From'];
        return rows.length === 0 ? [] : [{ is: 'table', caption: title, heads, rows }];
      }
      case 'tasks':
        return listsOf(outcome).map((list) => ({ is, list }));
      case 'history': {
        const lines = historyLines(outcome);
        return lines.length === 0 ? [] : [{ is: 'list', lines }];
      }
      case 'causes': {
        const lines = causesText(outcome);
        return lines.length === 0 ? [] : [{ is: 'list', lines }];
      }
      case 'cautions':
        return options.cautions.length === 0 ? [] : [{ is: 'list', lines: options.cautions }];
    }
  }

  private findings({ only, brief }: FindingsPart): Block[] {
    const { outcome, options } = this;
    const wanted = (check: CheckOutcome): boolean =>
      only === undefined || (check.state === 'out-of-limits' && (only === 'out' || isMendedByCut(outcome, check)));
    const ids = new Set(outcome.checks.filter(wanted).map(({ id }) => id));
    const findings = findingsOn(outcome, options.files).filter(({ id }) => ids.has(id));
    if (findings.length === 0) return [];
    return [{ is: 'findings', findings: brief === true ? findings.map((one) => ({ ...one, lines: [] })) : findings }];
  }

  private steps({ steps }: StepsPart): Block[] {
    const known = steps.filter(({ when }) => !when || when.some((path) => knownAt(this.outcome, path)));
    const rows = this.rows();
    return [
      {
        is: 'steps',
        steps: known.map(({ title, text, figures, drawing, blanks }) => ({
          title,
          text,
          grid: figuresGrid(this.outcome, title, figures ?? [], rows),
          drawing: this.drawn(this.options.drawings.filter(({ name }) => name === drawing))[0] ?? null,
          blanks: blanks ?? [],
        })),
      },
    ];
  }

  private rows(): Rows {
    const { outcome, options } = this;
    const checksOf = (slot: number): readonly CheckOutcome[] =>
      outcome.checks.filter((check) => check.slot?.id === slot && check.state !== 'not-applicable');
    return { files: options.files, checksOf };
  }

  private chapters(folded: boolean): Part[] {
    const { outcome, options } = this;
    const plans = sectionPlans(outcome, options);
    const homes = drawingHomes(plans, options.drawings);
    const drawn = new Drawn(outcome, options.drawings, homesIn(plans, homes));
    const parts = plans.map((plan): Part => ({
      id: chapterPiece(plan),
      title: plan.title,
      about: '',
      counted: counted(outcome, plan),
      folded,
      blocks: () => chapterBlocks(plan, drawn, homes.get(plan) ?? []),
    }));
    const homeless = drawn.blocks(homes.get(null) ?? []);
    if (homeless.length === 0) return parts;
    return [...parts, part(homelessPart, { title: 'Drawings', folded }, homeless)];
  }

  private drawn(plans: readonly DrawingPlan[]): SheetDrawing[] {
    return plans.flatMap((plan) => drawingOf(this.outcome, plan) ?? []);
  }
}

function part(
  id: string,
  { title, about, folded }: { readonly title: string; readonly about?: string; readonly folded?: boolean },
  blocks: readonly Block[],
): Part {
  const rows = blocks.reduce((sum, block) => sum + (block.is === 'table' ? block.rows.length : 0), 0);
  const counted = rows > 0 ? String(rows) : '';
  return { id, title, about: about ?? '', counted, folded: folded === true, blocks: () => blocks };
}

function foldedPart(
  id: string,
  { title, about }: { readonly title: string; readonly about?: string },
  blocks: () => readonly Block[],
): Part {
  return { id, title, about: about ?? '', counted: '', folded: true, blocks };
}

function chapterBlocks(plan: SectionPlan, drawn: Drawn, drawings: readonly DrawingPlan[]): Block[] {
  const section = plan.written();
  const grid = gridOf(section);
  const [about] = section.doc.split(/\n\s*\n/);
  return [
    ...(about ? [{ is: 'text' as const, look: 'note' as const, text: about.replace(/\s+/g, ' ') }] : []),
    ...section.parts.map((text) => ({ is: 'text' as const, look: 'plain' as const, text })),
    ...(grid ? [drawn.linked(grid)] : []),
    ...drawn.blocks(drawings),
  ];
}

/** `34 figures, 2 out of limits`. */
function counted({ checks }: Outcome, { slots }: SectionPlan): string {
  const here = new Set(slots.map(({ slot }) => slot.id));
  const told = (['out-of-limits', 'at-risk', 'accepted'] as const).flatMap((state) => {
    const count = checks.filter((check) => check.state === state && check.slot && here.has(check.slot.id)).length;
    return count === 0 ? [] : [`${count} ${state.replaceAll('-', ' ')}`];
  });
  const figures = slots.length === 0 ? [] : [`${slots.length} ${slots.length === 1 ? 'figure' : 'figures'}`];
  return [...figures, ...told].join(', ');
}

function isMendedByCut({ binding }: Outcome, { rule }: CheckOutcome): boolean {
  return (rule?.adjust ?? []).some(({ slot }) => {
    const features = binding.schema.slots[slot]?.features ?? [];
    return features.includes('grows') || features.includes('falls');
  });
}
