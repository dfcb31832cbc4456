/** A size that was asked for is due until something else changes the part; what a base accepts is said of the base. */
import { describe, expect, it } from 'vitest';
import { run } from '../../reference/run.ts';

const text = (body: string, more = ''): string => `use prelude 1
component Plate {
  hours: Ratio = 0
  height: Length as 0.000 mm falls changed-by hours
  height-limits: Length limits as 0.000 mm = >= 59.95 mm
  rule high-enough: error {
    when given(height)
    expect height within height-limits
    because "it would not reach"
  }
}
extend Engine { plate: Plate }
build one {
  layout: single
  ${body}
}
${more}`;
const order = 'machining "Order" on 2026-03-01 { plate.height: 60.00 ± 0.01 mm }';
const read = (on: string, figure: string): string => `measured on ${on} { plate.height: ${figure} mm }`;

describe('a size that was asked for', () => {
  const sizeIn = (body: string): string | undefined =>
    run(text(body)).builds[0]!.outcome.checks.find(({ id }) => id === 'plate.height.to-size')?.state;

  it('is due of what came back', () => {
    expect(sizeIn(`${order}\n${read('2026-03-04', '59.98')}`)).toBe('out-of-limits');
  });
  it('is not due of what has been changed by something else since', () => {
    const season = 'machining "Season" on 2026-10-18 { plate.hours: was + 31 }';
    expect(sizeIn(`${order}\n${season}\n${read('2026-11-05', '59.98')}`)).toBeUndefined();
    expect(sizeIn(`${season.replace('10-18', '02-18')}\n${order}\n${read('2026-11-05', '59.98')}`)).toBe(
      'out-of-limits',
    );
  });
});

describe('what a base accepts', () => {
  const accept = 'accept plate.high-enough within >= 59.90 mm because "shimmed"';
  const slipsOf = (base: string, variant: string): readonly string[] =>
    run(text(`${base}\n${accept}`, `variant two of one { ${variant} }`)).slips;

  it('is no slip of a variant in which it is not needed', () => {
    expect(slipsOf('plate.height: 59.92 mm', 'plate.height: 60.00 mm')).toEqual([]);
  });
  it('is still one of the base', () => {
    expect(slipsOf('plate.height: 60.00 mm', 'plate.height: 59.92 mm').map((slip) => slip.split(':')[0])).toEqual([
      'accept.not-needed',
    ]);
  });
});
