/**
 * Formulas as a person would write them in a loop over trials: one array a figure, one function a figure, loops over its places. It knows
 * nothing of the graphs and the columns that the language makes of the same formulas; what does not move is worked out beforehand by it.
 */
import type { Expr, Reduce, SlotId } from '../../language/src/semantics/ir.ts';
import type { Plan } from '../../language/src/semantics/plan/run.ts';
import { slotsIn } from '../../language/src/semantics/reads.ts';
import { starts, steps } from './reductions.ts';

/** What a person would not care to write down either. */
class Unable extends Error {}

/** Place on an axis, as JavaScript. */
type Places = ReadonlyMap<number, string>;

interface Block {
  readonly lines: string[];
  readonly known: Map<string, string>;
  readonly round: Block | null;
}
type Locals = ReadonlyMap<number, { readonly expr: Expr; readonly locals: Locals }>;
const noLocals: Locals = new Map();

interface Written {
  readonly cells: number;
  /** Into `out`, all cells of one trial beside each other. */
  run(drawn: readonly Float64Array[], trials: number, out: Float64Array): void;
}

const single = new Set('abs sign sqrt exp log log10 sin cos tan asin acos atan'.split(' '));
const paired = new Map([
  ['largest', 'max'],
  ['smallest', 'min'],
  ['hypot', 'hypot'],
  ['atan2', 'atan2'],
]);

export class ByHand {
  private readonly plan: Plan;
  private readonly drawn: ReadonlyMap<SlotId, ReadonlyMap<number, number>>;
  private readonly moving: ReadonlySet<SlotId>;
  private readonly pool: Float64Array[] = [];
  private readonly names = new Map<SlotId, string | Unable>();
  private readonly functions: string[] = [];
  private readonly calls: string[] = [];
  private count = 0;

  /** `drawn`: by slot and cell, which column. `moving`: slots that rest on those. */
  constructor(plan: Plan, drawn: ReadonlyMap<SlotId, ReadonlyMap<number, number>>, moving: ReadonlySet<SlotId>) {
    this.plan = plan;
    this.drawn = drawn;
    this.moving = moving;
  }

  canWrite(slot: SlotId): boolean {
    try {
      this.slot(slot);
      return true;
    } catch (problem) {
      if (problem instanceof Unable || problem instanceof RangeError) return false;
      throw problem;
    }
  }

  /** Only after `canWrite` of each. */
  write(slots: readonly SlotId[]): Written {
    const wanted = slots.map((slot) => ({ name: this.slot(slot), size: this.sizeOf(slot) }));
    const cells = wanted.reduce((sum, { size }) => sum + size, 0);
    const keep = wanted.map(({ name, size }) => `for (let c = 0; c < ${size}; c++) out[o++] = ${name}[c];`);
    const body = [
      ...this.pool.map((_, at) => `const p${at} = pool[${at}];`),
      'const le = (a, b) => (a <= b || a - b <= 1e-9 * Math.max(Math.abs(a), Math.abs(b)) ? 1 : a === a && b === b ? 0 : NaN);',
      'const eq = (a, b) => (Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b)) ? 1 : a === a && b === b ? 0 : NaN);',
      'const square = (a) => a * a;',
      'const cube = (a) => a * a * a;',
      ...this.functions,
      'return function (drawn, trials, out) {',
      'let o = 0;',
      'for (let t = 0; t < trials; t++) {',
      ...this.calls,
      ...keep,
      '}',
      '};',
    ].join('\n');
    // oxlint-disable-next-line no-implied-eval, no-new-func -- a benchmark's own text
    const make = new Function('pool', body) as (pool: readonly Float64Array[]) => Written['run'];
    return { cells, run: make(this.pool) };
  }

  private fresh(): string {
    return `v${this.count++}`;
  }

  private sizeOf(slot: SlotId): number {
    return this.tensorOf(slot).data.length;
  }

  private tensorOf(slot: SlotId) {
    const { value } = this.plan.valueOf(slot, 'measured');
    if (value.is !== 'numbers') throw new Unable();
    return value.tensor;
  }

  private pooled(data: Float64Array): string {
    this.pool.push(data.slice());
    return `p${this.pool.length - 1}`;
  }

  private slot(slot: SlotId): string {
    const known = this.names.get(slot);
    if (known instanceof Unable) throw known;
    if (known !== undefined) return known;
    this.names.set(slot, new Unable());
    const name = this.slotAnew(slot);
    this.names.set(slot, name);
    return name;
  }

  private slotAnew(slot: SlotId): string {
    const { data, axes } = this.tensorOf(slot);
    const name = this.pooled(data);
    if (!this.moving.has(slot)) return name;
    const { sources } = this.plan.valueOf(slot, 'measured');
    const columns = this.drawn.get(slot) ?? new Map<number, number>();
    const block: Block = { lines: [], known: new Map(), round: null };
    for (const [cell, column] of columns) block.lines.push(`${name}[${cell}] = drawn[${column}][t];`);
    const left = Array.from(data, (figure, cell) =>
      columns.has(cell) || Number.isNaN(figure) ? null : sources![cell]!,
    );
    const { formula, measuredBy } = this.plan.schema.slots[slot]!;
    for (const [expr, speaks] of [
      [formula, (who: number) => who === -2],
      [measuredBy, (who: number) => who <= -10],
    ] as const) {
      const cells = left.flatMap((who, cell) => (who !== null && speaks(who) ? [cell] : []));
      if (cells.length === 0) continue;
      const mask = Float64Array.from(data, (_, cell) => (cells.includes(cell) ? 1 : 0));
      const places = new Map<number, string>();
      axes.forEach((axis) => {
        const at = this.fresh();
        places.set(axis.id, at);
        block.lines.push(`for (let ${at} = 0; ${at} < ${axis.size}; ${at}++) {`);
      });
      const cell = this.fresh();
      block.lines.push(`const ${cell} = ${this.index(axes, places)};`);
      if (mask.includes(0)) block.lines.push(`if (${this.pooled(mask)}[${cell}] === 0) continue;`);
      const inner: Block = { lines: [], known: new Map(), round: block };
      const result = this.expr(expr!, places, noLocals, inner);
      block.lines.push(...inner.lines, `${name}[${cell}] = ${result};`, ...axes.map(() => '}'));
      if (axes.length === 0 && mask.includes(0)) throw new Unable();
    }
    this.functions.push(`function f${slot}(t, drawn) {\n${block.lines.join('\n')}\n}`);
    this.calls.push(`f${slot}(t, drawn);`);
    return name;
  }

  private index(axes: readonly { readonly id: number; readonly size: number }[], places: Places): string {
    let text = '0';
    for (const { id, size } of axes) {
      const at = places.get(id);
      if (at === undefined) throw new Unable();
      text = text === '0' ? at : `(${text}) * ${size} + ${at}`;
    }
    return text;
  }

  private isStill(expr: Expr): boolean {
    return !holdsLocals(expr) && [...slotsIn(expr)].every((slot) => !this.moving.has(slot));
  }

  private expr(expr: Expr, places: Places, locals: Locals, block: Block): string {
    const of = (one: Expr): string => this.expr(one, places, locals, block);
    if (expr.op === 'constant') return `(${expr.value})`;
    if (expr.op === 'place') return places.get(expr.axis) ?? refuse();
    if (expr.op === 'slot') return `${this.slot(expr.slot)}[${this.index(this.tensorOf(expr.slot).axes, places)}]`;
    if (this.isStill(expr)) {
      const tensor = this.plan.aside(expr) ?? refuse();
      return `${this.pooled(tensor.data)}[${this.index(tensor.axes, places)}]`;
    }
    switch (expr.op) {
      case 'let':
        return this.expr(expr.body, places, new Map([...locals, [expr.local, { expr: expr.value, locals }]]), block);
      case 'local': {
        const key = `${expr.local} ${[...places].join(' ')}`;
        const known = found(block, key);
        if (known !== null) return known;
        const local = locals.get(expr.local) ?? refuse();
        const name = this.fresh();
        const value = this.expr(local.expr, places, local.locals, block);
        block.lines.push(`const ${name} = ${value};`);
        block.known.set(key, name);
        return name;
      }
      case 'negate':
        return `(-${of(expr.of)})`;
      case 'not':
        return `(1 - ${of(expr.of)})`;
      case 'if':
        return this.chosen(of(expr.condition), of(expr.yes), of(expr.no));
      case 'by-choice': {
        const subject = of(expr.subject);
        const others = expr.others === null ? 'NaN' : of(expr.others);
        return expr.cases.reduceRight(
          (rest, { key, value }) => `(${subject} === ${key} ? ${of(value)} : ${rest})`,
          others,
        );
      }
      case 'binary':
        return this.binary(expr, of);
      case 'apply': {
        const [a, ...more] = expr.args.map(of);
        if (more.length === 0 && single.has(expr.function)) return `Math.${expr.function}(${a})`;
        const name = paired.get(expr.function);
        return name === undefined ? refuse() : more.reduce((left, right) => `Math.${name}(${left}, ${right})`, a!);
      }
      case 'view':
        return expr.view === 'measured' ? of(expr.of) : refuse();
      case 'reduce':
        return this.reduced(expr, places, locals, block);
      case 'gather': {
        const at = this.fresh();
        block.lines.push(`const ${at} = ${of(expr.index)};`);
        return this.expr(expr.of, new Map([...places, [expr.axis, at]]), locals, block);
      }
      default:
        return refuse();
    }
  }

  private chosen(condition: string, yes: string, no: string): string {
    return `(${condition} === 1 ? ${yes} : ${no})`;
  }

  private binary({ operator, left, right }: Extract<Expr, { op: 'binary' }>, of: (expr: Expr) => string): string {
    const [a, b] = [of(left), of(right)];
    if (operator === '+' || operator === '-' || operator === '*' || operator === '/') return `(${a} ${operator} ${b})`;
    if (operator === '^') return b === '(2)' ? `square(${a})` : b === '(3)' ? `cube(${a})` : `Math.pow(${a}, ${b})`;
    if (operator === '<=') return `le(${a}, ${b})`;
    if (operator === '>=') return `le(${b}, ${a})`;
    if (operator === '<') return `(1 - le(${b}, ${a}))`;
    if (operator === '>') return `(1 - le(${a}, ${b}))`;
    if (operator === '==') return `eq(${a}, ${b})`;
    if (operator === '!=') return `(1 - eq(${a}, ${b}))`;
    if (operator === 'and') return `(${a} * ${b})`;
    return operator === 'or' ? `Math.max(${a}, ${b})` : refuse();
  }

  private reduced(
    { function: name, of, over, where, by }: Reduce,
    places: Places,
    locals: Locals,
    block: Block,
  ): string {
    const [kept, least, count] = [this.fresh(), this.fresh(), this.fresh()];
    const inside = new Map(places);
    block.lines.push(`let ${kept} = ${starts.get(name) ?? refuse()}, ${least} = Infinity, ${count} = 0;`);
    for (const id of over) {
      const at = this.fresh();
      inside.set(id, at);
      block.lines.push(`for (let ${at} = 0; ${at} < ${this.plan.axes.axis(id).size}; ${at}++) {`);
    }
    const inner: Block = { lines: [], known: new Map(), round: block };
    const conditions: string[] = [];
    if (by !== null)
      conditions.push(`${this.expr(by.index, inside, locals, inner)} === ${places.get(by.to) ?? refuse()}`);
    if (where !== null) conditions.push(`${this.expr(where, inside, locals, inner)} === 1`);
    const figure = this.expr(of, inside, locals, inner);
    const step = steps.get(name)!(kept, figure, least);
    const counted = name === 'count' && of.type.value.is === 'flag' ? `${count} += ${figure};` : `${count}++;`;
    const test = conditions.length === 0 ? '' : `if (${conditions.join(' && ')}) `;
    block.lines.push(...inner.lines, `${test}{ ${step} ${counted} }`, ...over.map(() => '}'));
    if (name === 'mean') return `(${kept} / ${count})`;
    if (name === 'spread') return `(${kept} - ${least})`;
    return name === 'count' ? count : kept;
  }
}

function refuse(): never {
  throw new Unable();
}

function found(block: Block | null, key: string): string | null {
  if (block === null) return null;
  return block.known.get(key) ?? found(block.round, key);
}

function holdsLocals(expr: Expr): boolean {
  return JSON.stringify(expr, (key, value: unknown) => (key === 'at' || key === 'type' ? undefined : value)).includes(
    '"local"',
  );
}
