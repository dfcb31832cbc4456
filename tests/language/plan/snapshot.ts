/** All that an outcome says, as plain data, for comparing two of them to the last bit. */
import type { Tensor, Value } from '../../../language/src/semantics/evaluate/value.ts';
import type { View } from '../../../language/src/semantics/ir.ts';
import type { Outcome } from '../../../language/src/semantics/plan/outcome.ts';

const names: readonly View[] = ['specified', 'ordered', 'before', 'measured'];

function ofTensor(tensor: Tensor): unknown {
  // -0 and 0 differ here, as they would in bytes
  const figures = Array.from(tensor.data, (x) => (Object.is(x, -0) ? '-0' : String(x)));
  const marks = tensor.mark === null || tensor.mark.every((mark) => mark === 0) ? null : [...tensor.mark];
  return [tensor.axes.map(({ id, size, labels, coordinates }) => [id, size, labels, [...coordinates]]), figures, marks];
}

function ofValue(value: Value): unknown {
  if (value.is === 'limits') return [ofTensor(value.low), ofTensor(value.high)];
  if (value.is === 'curves') return [value.curves, value.mark === null ? null : [...value.mark]];
  return [ofTensor(value.tensor), value.band === null ? null : [ofTensor(value.band.low), ofTensor(value.band.high)]];
}

export function snapshot(outcome: Outcome): unknown {
  return {
    slots: outcome.slots.map((slot) => ({
      path: slot.slot.path,
      views: names.map((view) => ofValue(slot.views[view])),
      states: slot.states,
      cells: slot.states.map((_, cell) => [
        names.map((view) => [slot.layerOf(cell, view), slot.sourceOf(cell, view)?.signature ?? null]),
        slot.historyOf(cell).map(({ layer, value, speaks }) => [layer, String(value), speaks]),
      ]),
      band: slot.band(),
      uncertainty: slot.uncertainty(),
    })),
    checks: outcome.checks.map(({ rule, expect, slot, origin, axes, blame, limitFrom, ...rest }) => ({
      ...rest,
      rule: rule?.id,
      expect: expect?.text,
      slot: slot?.path,
      axes: axes.map((axis) => axis.id),
      at: origin.at.$type,
      blame: blame.map((one) => [one.path, one.origin.at.$type]),
      limitFrom: limitFrom === null ? null : [limitFrom.words, limitFrom.layer],
      cells: rest.cells.map(({ accept, ...cell }) => ({ ...cell, accept: accept?.rule })),
    })),
    causes: outcome.causes.map(({ origin, ...rest }) => ({ ...rest, at: origin?.at.$type })),
    toMeasure: outcome.toMeasure,
    problems: outcome.problems.map(({ code, args, origin }) => [code, args, origin.at.$type]),
  };
}
