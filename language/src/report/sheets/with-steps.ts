// Beside each figure of a part one step of what it is made of and what uses it, for pages that stand alone.
import type { Outcome } from '../../semantics/plan/outcome.ts';
import type { Files } from '../place.ts';
import { takenApart } from '../taken-apart.ts';
import type { Block, GridBlock, GridRow, Part } from './document.ts';

export function withSteps(outcome: Outcome, part: Part, files: Files): Part {
  const told = (block: Block): Block => {
    if (block.is === 'grid') return gridWithSteps(outcome, block, files);
    if (block.is !== 'steps') return block;
    const steps = block.steps.map((step) => ({ ...step, grid: step.grid && gridWithSteps(outcome, step.grid, files) }));
    return { ...block, steps };
  };
  return { ...part, blocks: () => part.blocks().map(told) };
}

function gridWithSteps(outcome: Outcome, grid: GridBlock, files: Files): GridBlock {
  const rowTold = (row: GridRow): GridRow => {
    const steps = row.name === '' ? null : stepsOf(outcome, row, files);
    return steps ? { ...row, apart: steps } : row;
  };
  return { ...grid, groups: grid.groups.map((group) => ({ ...group, rows: group.rows.map(rowTold) })) };
}

function stepsOf(outcome: Outcome, { address, cells }: GridRow, files: Files): GridRow['apart'] | null {
  const known = cells.find((cell) => cell.address !== null && cell.figure !== null && cell.figure.number !== '—');
  const asked = { figure: known?.address ?? address, view: 'measured', way: 'both' } as const;
  const apart = takenApart(outcome, asked, files);
  if ('problem' in apart) return null;
  const first = apart.places[0]?.figure;
  const { made, used } = first ? (stepsAt(outcome, first, files) ?? apart) : apart;
  const texts = (steps: typeof made): string[] => steps.map(({ text }) => text);
  return made.length + used.length === 0 ? null : { made: texts(made), used: texts(used) };
}

function stepsAt(outcome: Outcome, figure: string, files: Files) {
  const apart = takenApart(outcome, { figure, view: 'measured', way: 'both' }, files);
  return 'problem' in apart ? null : apart;
}
