/**
 * A rig of three plates as a hand-made outcome: what the reports read, without the plan that makes it. Trees are read from a
 * real text, so that places and typed figures are real; figures in SI are written here.
 */
import type { AstNode } from 'langium';
import { AstUtils } from 'langium';
import { namedMeasures } from '@thou/shared/dimension/types';
import { standardUnits } from '@thou/shared/unit/unit';
import { parseFile } from '../../../language/src/grammar/file.ts';
import type { Assignment, BuildBinding } from '../../../language/src/semantics/bind/binding.ts';
import { Mark } from '../../../language/src/semantics/evaluate/value.ts';
import type { Axis, Tensor, Value } from '../../../language/src/semantics/evaluate/value.ts';
import type { Expr } from '../../../language/src/semantics/ir.ts';
import type { CheckCell, CheckOutcome, Outcome, SlotOutcome } from '../../../language/src/semantics/plan/outcome.ts';
import type { Mount, Schema, Slot } from '../../../language/src/semantics/schema/schema.ts';
import { filesOf } from '../../../language/src/report/place.ts';

const uri = 'file:///rig.thou';
const text = `component Rig { plate: Plate per station, rail: Length as 0.00 mm }
axis station = 1..3
component Plate { width: Length as 0.000 in / 0.00 mm }
/// What is left between plate and rail.
/// Source: definition.
derive gap: Length per station as 0.000 in = rail - plate.width
practice "Common" { gap-limits: 0.010..0.020 in }
rule gap-even: warning { expect gap within gap-limits, because "a tight plate binds", adjust plate.width }
build jig {
  rail: 25.80 mm
  plate.width: [1.0000, 1.0155, _] in
}
`;

const source = parseFile(uri, text);
const nodes = source.blocks.flatMap(({ parsed }) =>
  parsed.item ? [parsed.item, ...AstUtils.streamAllContents(parsed.item)] : [],
);

/** The piece of syntax of this sort with these words. */
function node(sort: string, words: string): AstNode {
  const found = nodes.find((one) => one.$type === sort && (one.$cstNode?.text ?? '').startsWith(words));
  if (!found) throw new Error(`the rig has no ${sort} "${words}"`);
  return found;
}

export const files = filesOf(
  (at) => (at === uri ? source : undefined),
  () => 'rig.thou',
);

const inch = 0.0254;
export const station: Axis = { id: 0, name: 'station', size: 3, labels: null, coordinates: Float64Array.of(1, 2, 3) };
const length = { is: 'measure', measure: namedMeasures.get('Length')! } as const;
const typeAlong = (axes: readonly number[]) => ({ value: length, axes });
const origin = (at: AstNode) => ({ uri, at });
const unit = (symbol: string) => standardUnits.get(symbol)!;

const width: Slot = {
  id: 0,
  path: 'plate.width',
  name: 'width',
  mount: 1,
  sort: 'property',
  type: length,
  axes: [0],
  formula: null,
  exactDefault: false,
  measuredBy: null,
  shown: [
    { decimals: 3, unit: unit('in') },
    { decimals: 2, unit: unit('mm') },
  ],
  features: ['falls'],
  changedBy: [],
  onDemand: false,
  measurable: true,
  doc: undefined,
  origin: origin(node('Property', 'width')),
};
const rail: Slot = {
  ...width,
  id: 1,
  path: 'rail',
  name: 'rail',
  mount: 0,
  axes: [],
  shown: [{ decimals: 2, unit: unit('mm') }],
  features: [],
  origin: origin(node('Property', 'rail')),
};
const read = (slot: Slot, words: string): Expr => ({
  op: 'slot',
  slot: slot.id,
  type: typeAlong(slot.axes),
  at: node('Ref', words),
});
const gap: Slot = {
  ...width,
  id: 2,
  path: 'gap',
  name: 'gap',
  mount: 0,
  sort: 'derive',
  shown: [{ decimals: 3, unit: unit('in') }],
  features: [],
  doc: 'What is left between plate and rail.\nSource: definition.',
  origin: origin(node('Derive', 'derive gap')),
  formula: {
    op: 'binary',
    operator: '-',
    left: read(rail, 'rail'),
    right: read(width, 'plate.width'),
    type: typeAlong([0]),
    at: node('Binary', 'rail - plate.width'),
  },
};

const mount = {
  parent: null,
  axes: [],
  optional: false,
  children: [],
  slots: [],
  doc: undefined,
  origin: origin(node('Component', 'component Rig')),
};
const root: Mount = { ...mount, id: 0, path: '', name: 'rig', component: 'Rig', children: [1], slots: [1, 2] };
const plate: Mount = {
  ...mount,
  id: 1,
  path: 'plate',
  name: 'plate',
  component: 'Plate',
  parent: 0,
  axes: [0],
  slots: [0],
  origin: origin(node('Property', 'plate')),
};

export const schema: Schema = {
  rootName: 'rig',
  mounts: [root, plate],
  slots: [width, rail, gap],
  rules: [],
  axes: [
    {
      id: 0,
      name: 'station',
      mount: 0,
      labels: null,
      range: null,
      listed: null,
      twinOf: null,
      open: false,
      measure: null,
      doc: undefined,
      origin: origin(node('Axis', 'axis station')),
    },
  ],
  slotAt: new Map([
    ['plate.width', 0],
    ['rail', 1],
    ['gap', 2],
  ]),
  mountAt: new Map([
    ['', 0],
    ['plate', 1],
  ]),
};

function tensor(axes: readonly Axis[], figures: readonly (number | null)[], mark = Mark.specified as number): Tensor {
  return {
    axes,
    data: Float64Array.from(figures, (figure) => figure ?? NaN),
    mark: Uint8Array.from(figures, (figure) => (figure === null ? Mark.missing : mark)),
  };
}
export function numbers(axes: readonly Axis[], figures: readonly (number | null)[]): Value {
  return { is: 'numbers', tensor: tensor(axes, figures), band: null };
}

const constant = (at: AstNode, value: number): Expr => ({ op: 'constant', value, type: typeAlong([]), at });
const assignment = (slot: number, value: Expr, at: AstNode): Assignment => ({
  slot,
  selector: [],
  value,
  layer: 'build',
  order: 1,
  part: null,
  block: null,
  date: null,
  hand: null,
  instrument: null,
  temperature: null,
  reason: null,
  whose: 'jig',
  origin: origin(at),
  signature: '',
});
const widthGiven = assignment(
  0,
  {
    op: 'list',
    axis: 0,
    others: null,
    type: typeAlong([0]),
    at: node('List', '[1.0000'),
    entries: [
      { key: null, value: constant(node('Quantity', '1.0000'), inch) },
      { key: null, value: constant(node('Quantity', '1.0155'), 1.0155 * inch) },
      { key: null, value: { op: 'missing', why: null, type: typeAlong([]), at: null } },
    ],
  },
  node('Given', 'plate.width:'),
);
const railGiven = assignment(1, constant(node('Quantity', '25.80 mm'), 0.0258), node('Given', 'rail:'));

interface Made {
  readonly slot: Slot;
  readonly axes: readonly Axis[];
  readonly figures: readonly (number | null)[];
  readonly given?: Assignment;
  readonly uncertainty?: number;
}
function outcomeOf({ slot, axes, figures, given, uncertainty }: Made): SlotOutcome {
  const value = numbers(axes, figures);
  const layer = given ? ('build' as const) : ('formula' as const);
  return {
    slot,
    axes,
    views: { specified: value, ordered: value, before: value, measured: value },
    states: figures.map((figure) => (figure === null ? 'missing' : 'specified')),
    layerOf: (cell) => (figures[cell] === null ? null : layer),
    sourceOf: (cell) => (figures[cell] === null ? null : (given ?? null)),
    warmOf: () => null,
    historyOf: (cell) => [{ layer, value: figures[cell] ?? NaN, source: given ?? null, warm: null, speaks: true }],
    band: () =>
      figures.map((figure) =>
        figure === null || uncertainty === undefined ? null : { low: figure - uncertainty, high: figure + uncertainty },
      ),
    uncertainty: () => figures.map((figure) => (figure === null ? null : (uncertainty ?? null))),
  };
}

const gaps = [0.0258 - inch, 0.0258 - 1.0155 * inch, null];
const missing = { path: 'plate.width', slot: 0, cell: 2, label: 'plate[3].width', why: null, stale: false };
const cell = (place: number, state: CheckCell['state'], value: number | null): CheckCell => ({
  places: [place],
  state,
  value,
  low: 0.01 * inch,
  high: 0.02 * inch,
  band: null,
  guard: null,
  missing: value === null ? [missing] : [],
  accept: null,
});
const rule = node('Rule', 'rule gap-even');

export const check: CheckOutcome = {
  id: 'gap-even',
  kind: 'rule',
  severity: 'warning',
  expect: null,
  slot: gap,
  axes: [station],
  state: 'out-of-limits',
  rule: {
    id: 'gap-even',
    name: 'gap-even',
    mount: 0,
    severity: 'warning',
    when: null,
    because: 'a tight plate binds',
    doc: undefined,
    origin: origin(rule),
    demand: { comparisons: [], flag: null, at: node('Expect', 'expect gap') },
    adjust: [{ slot: 0, keys: [], even: false, link: null }],
  },
  cells: [cell(0, 'holds-on-paper', gaps[0]!), cell(1, 'out-of-limits', gaps[1]!), cell(2, 'cannot-tell', null)],
  because: 'a tight plate binds',
  limitFrom: { words: 'common practice', origin: origin(node('Given', 'gap-limits')), layer: 'practice' },
  origin: origin(rule),
  blame: [{ origin: origin(node('Given', 'plate.width:')), path: 'plate.width', slot: 0, cell: 0, cells: [0] }],
  cause: null,
};

const binding: BuildBinding = {
  name: 'jig',
  schema,
  base: null,
  assignments: [widthGiven, railGiven],
  parts: [],
  history: [],
  expects: [],
  accepts: [],
  fitted: new Set(),
  removed: new Set(),
  drops: { slots: new Set(), mounts: new Set() },
  instruments: new Map(),
  edition: 1,
  origin: origin(node('Build', 'build jig')),
  doc: 'A jig to try.',
  nameAt: node('Build', 'build jig'),
};

export const slots = {
  width: outcomeOf({ slot: width, axes: [station], figures: [inch, 1.0155 * inch, null], given: widthGiven }),
  rail: outcomeOf({ slot: rail, axes: [], figures: [0.0258], given: railGiven }),
  gap: outcomeOf({ slot: gap, axes: [station], figures: gaps, uncertainty: 0.00002 }),
};

export const outcome: Outcome = {
  binding,
  axes: new Map([[0, station]]),
  slots: [slots.width, slots.rail, slots.gap],
  checks: [check],
  causes: [],
  toMeasure: [{ input: missing, settles: ['gap-even'] }],
  readAgain: [],
  problems: [],
  texts: [],
  tensorOf: () => null,
};
