/**
 * Figures as other programs write them: a point or a comma before the decimals, digits in groups of three. Only reads; which of two
 * readings is meant is for those who know what the figure is of.
 */

export type DecimalMark = '.' | ',';

export const decimalMarks: readonly DecimalMark[] = ['.', ','];

const blank = "[ \\u00a0\\u2009\\u202f'’]";
const signed = '^([+\\-−]?)';
const power = '([eE][+-]?\\d{1,3})?$';

const shapes: Readonly<Record<DecimalMark, RegExp>> = {
  '.': new RegExp(`${signed}(\\d+|[1-9]\\d{0,2}(?:,\\d{3})+|[1-9]\\d{0,2}(?:${blank}\\d{3})+|)(?:\\.(\\d+))?${power}`),
  ',': new RegExp(`${signed}(\\d+|[1-9]\\d{0,2}(?:\\.\\d{3})+|[1-9]\\d{0,2}(?:${blank}\\d{3})+|)(?:,(\\d+))?${power}`),
};

/** The figure with a decimal point and no groups, every digit kept: `1.234,50` with a comma is `1234.50`. Null where it is none. */
export function plainFigure(written: string, mark: DecimalMark): string | null {
  const [all, sign = '', whole = '', decimals, exponent = ''] = shapes[mark].exec(written.trim()) ?? [];
  if (all === undefined || (whole === '' && decimals === undefined)) return null;
  const digits = whole.replace(/\D/g, '') || '0';
  return `${sign === '' || sign === '+' ? '' : '-'}${digits}${decimals === undefined ? '' : `.${decimals}`}${exponent}`;
}
