/** One check value from outside: a small text, the figure that must come out of it, and where that figure is from. */
export interface Row {
  readonly id: string;
  readonly source: string;
  readonly text: string;
  readonly path: string;
  /** In `unit`, one a cell where there are several. */
  readonly expected: number | readonly number[];
  readonly unit: keyof typeof unit;
  /** In `unit`; 0 is exact to rounding of the last bits. */
  readonly tolerance: number;
}

/** A row in one line. */
export function row(
  id: string,
  source: string,
  text: string,
  path: string,
  expected: Row['expected'],
  unit: Row['unit'],
  tolerance: number,
): Row {
  return { id, source, text, path, expected, unit, tolerance };
}

/** Factors to SI, written down here again so that the tool's own units are not checked by themselves. */
export const unit = {
  '1': 1,
  in: 0.0254,
  m: 1,
  mm: 0.001,
  cm: 0.01,
  um: 1e-6,
  cc: 1e-6,
  L: 1e-3,
  in3: 0.0254 ** 3,
  deg: Math.PI / 180,
  'in/deg2': 0.0254 / (Math.PI / 180) ** 2,
  g: 1e-3,
  kg: 1,
  lb: 0.45359237,
  'g*mm': 1e-6,
  N: 1,
  lbf: 0.45359237 * 9.80665,
  Pa: 1,
  'N*m': 1,
  'in-lbf': 0.0254 * 0.45359237 * 9.80665,
  psi: (0.45359237 * 9.80665) / 0.0254 ** 2,
  bar: 1e5,
  K: 1,
  'm/s': 1,
  'ft/s': 0.3048,
  'm/s2': 1,
  'ft/s2': 0.3048,
  gee: 9.80665,
  'kg/m3': 1,
  W: 1,
  hp: 550 * 0.3048 * 0.45359237 * 9.80665,
  rpm: Math.PI / 30,
  ms: 1e-3,
  mm2: 1e-6,
  'lbf/in': (0.45359237 * 9.80665) / 0.0254,
  cfm: 0.3048 ** 3 / 60,
  'cc/min': 1e-6 / 60,
} as const;

/** A build named `row` with these members, and trade knowledge of its own in front. */
export function engine(members: string, before = ''): string {
  return `use prelude 1\n${before}\nbuild row {\n${members}\n}\n`;
}

/** A figure computed in the language from trade functions alone. */
export function computed(type: string, formula: string): string {
  return engine('', `derive wanted: ${type} = ${formula}`);
}
