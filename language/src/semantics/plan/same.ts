/** Whether two values are the same to the last bit, so that what was made of the one need not be made again of the other. */
import type { Curve, Tensor, Value } from '../evaluate/value.ts';
import { markAt, sameAxes } from './cells.ts';

function sameNumbers(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((x, at) => Object.is(x, b[at]));
}

function sameTensor(a: Tensor, b: Tensor): boolean {
  if (!sameAxes(a.axes, b.axes) || !sameNumbers(a.data, b.data)) return false;
  return a.data.every((_, cell) => markAt(a.mark, cell) === markAt(b.mark, cell));
}

/** The same figures, marks and axes to the last bit. */
export function sameValue(a: Value, b: Value): boolean {
  if (a === b) return true;
  if (a.is === 'numbers' && b.is === 'numbers') {
    if (!sameTensor(a.tensor, b.tensor) || (a.band === null) !== (b.band === null)) return false;
    return a.band === null || (sameTensor(a.band.low, b.band!.low) && sameTensor(a.band.high, b.band!.high));
  }
  if (a.is === 'limits' && b.is === 'limits') return sameTensor(a.low, b.low) && sameTensor(a.high, b.high);
  if (a.is === 'curves' && b.is === 'curves')
    return (
      sameAxes(a.axes, b.axes) &&
      a.curves.every(
        (curve, cell) => sameCurve(curve, b.curves[cell]!) && markAt(a.mark, cell) === markAt(b.mark, cell),
      )
    );
  return false;
}

function sameCurve(a: Curve | null, b: Curve | null): boolean {
  if (a === null || b === null) return a === b;
  return (
    a.kind === b.kind &&
    a.clamped === b.clamped &&
    a.derivative === b.derivative &&
    a.keys.length === b.keys.length &&
    a.keys.every((keys, at) => sameNumbers(keys, b.keys[at]!)) &&
    sameNumbers(a.values, b.values)
  );
}
