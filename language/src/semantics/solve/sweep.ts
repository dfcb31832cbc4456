/** One figure at many sizes of another, all beside each other. Nothing else is changed. */
import { along, lanesId } from '../plan/cells.ts';
import type { Override } from '../plan/overrides.ts';
import type { Plan } from '../plan/run.ts';
import type { SlotId } from '../ir.ts';
import { tensorOf } from '../check/question.ts';
import { axesWithoutLanes } from '../plan/sensitivities.ts';
import { sizeOf } from '../plan/cells.ts';
import { viewOf } from './stepping.ts';
import type { Target } from './targets.ts';

const lanesAtOnce = 64;

/** By cell of `slot`, one figure for each size; SI, NaN where there is none. All cells of the target are set alike. */
export function swept(plan: Plan, slot: SlotId, target: Target, sizes: readonly number[]): readonly Float64Array[] {
  const axes = axesWithoutLanes(plan.valueOf(slot, 'measured').value);
  const lines = Array.from({ length: sizeOf(axes) }, () => new Float64Array(sizes.length).fill(NaN));
  for (let start = 0; start < sizes.length; start += lanesAtOnce) {
    const some = Float64Array.from(sizes.slice(start, start + lanesAtOnce));
    const cells: Override['cells'] = new Map([...target.from.keys()].map((cell) => [cell, some]));
    const moved = plan.withInputs([{ slot: target.slot.id, view: viewOf(plan, target.slot.id), cells }], some.length);
    const tensor = tensorOf(moved.valueOf(slot, 'measured').value);
    const across = tensor.axes.find(({ id }) => id === lanesId);
    const { data } = along(tensor, across === undefined ? axes : [across, ...axes]);
    lines.forEach((line, cell) =>
      some.forEach((_, lane) => {
        line[start + lane] = data[across === undefined ? cell : lane * lines.length + cell]!;
      }),
    );
  }
  return lines;
}
