// Figures as they are typed: `.039`, `7/16`, `1 7/16`, `1e-6`, `4.125`. Knows no unit.

const decimal = /^(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const fraction = /^(?:(\d+) +)?(\d+)\/(\d+)$/;

/** The number that a lexeme stands for, correctly rounded; NaN for no number, a division by zero or one too large. */
export function parseNumber(lexeme: string): number {
  const value = valueOf(lexeme);
  return Number.isFinite(value) ? value : Number.NaN;
}

function valueOf(lexeme: string): number {
  if (decimal.test(lexeme)) return Number(lexeme);
  const parts = fraction.exec(lexeme);
  if (!parts) return Number.NaN;
  const [, whole = '0', above, below] = parts;
  return (Number(whole) * Number(below) + Number(above)) / Number(below);
}
