/** One given figure: read for its slot, checked against what the layer allows, and kept with where it comes from. */
import type * as ast from '../../grammar/generated/ast.ts';
import { sourceText } from '../../grammar/file.ts';
import { fixed } from '@thou/shared/number/format';
import { fromSI } from '@thou/shared/unit/unit';
import type { Expr, SlotId } from '../ir.ts';
import { insteadOf, Silence } from '../problems/report.ts';
import { covered } from '../schema/formulas.ts';
import { due as dueOf, target, type Env } from '../types/env.ts';
import { readExpression } from '../types/expression.ts';
import { missing } from '../types/make.ts';
import { familySizes } from '../types/offered.ts';
import { trailingUnit } from '../types/literals.ts';
import { perWords, textOf } from '../types/words.ts';
import type { Assignment } from './binding.ts';
import { originOf, type Place } from './collect.ts';
import { familyOf } from './parts.ts';

export function bindFigure(given: ast.Given, slotId: SlotId, place: Place, env: Env): void {
  const slot = place.draft.slots[slotId]!;
  if (given.body) env.report.add('given.not-a-part', target(env, given, 'path'), { path: slot.path });
  if (!given.value) return;
  if (slot.sort === 'derive' && place.layer !== 'measured') {
    env.report.add('given.computed', target(env, given, 'path'), { path: slot.path });
    return;
  }
  if (slot.type.is === 'limits' && (place.layer === 'measured' || place.layer === 'machining')) {
    env.report.add('given.setting-cut', target(env, given, 'path'), {
      path: slot.path,
      done: place.layer === 'measured' ? 'measured' : 'machined',
    });
    return;
  }
  const picked = place.selector.map(({ axis }) => axis);
  const axes = slot.axes.filter((axis) => !picked.includes(axis));
  const reading = place.layer === 'machining' || place.layer === 'variant';
  const inner: Env = { ...env, was: reading ? slotId : null };
  const value = given.step
    ? family(given, slotId, inner)
    : covered(
        readExpression(given.value, inner, dueOf(slot.type, axes, slot.path, slot.shown[0]?.unit?.symbol)),
        slot.axes,
        slot.path,
        env,
      );
  if (value.type.value.is === 'unsettled' && value.op !== 'missing') return;
  if (value.type.value.is === 'unsettled' && !isBlank(given.value)) return;
  if (place.layer === 'measured' && !allCells(given, value, axes, slot.path, env)) return;
  checkWhole(value, slotId, place, env);
  checkFamily(given, value, slotId, place, env);
  keep(given, value, slotId, place);
}

function isBlank(value: ast.Expr): boolean {
  return value.$type === 'Ref' && value.steps[0]?.name === '_';
}

function keep(given: ast.Given, value: Expr, slot: SlotId, place: Place): void {
  const { notes } = place;
  const assignment: Assignment = {
    slot,
    selector: place.selector,
    value,
    layer: place.layer,
    order: place.order ?? place.into.nextOrder(),
    part: place.part,
    block: place.block,
    date: notes.date,
    hand: notes.hand,
    instrument: notes.instrument,
    temperature: notes.temperature,
    reason: notes.reason,
    whose: place.whose,
    origin: originOf(given, place),
    signature: `${place.uri}|${sourceText(given)}|${tableSignature(value)}|${notes.date ?? ''}|${notes.instrument ?? ''}|${notes.temperature ?? ''}`,
  };
  place.into.assignments.push(assignment);
  place.into.setSlots.add(slot);
}

/** Cells from a file count by what they say, not by the name of the file. */
function tableSignature(value: Expr): string {
  return value.op === 'table'
    ? value.rows
        .map(({ keys, value: figure }) => `${keys.map((key) => key.label ?? key.number).join(' ')}=${figure ?? ''}`)
        .join(';')
    : '';
}

/** A reading is of one cell: nothing is taken to read alike that was not read. */
function allCells(given: ast.Given, value: Expr, axes: readonly number[], path: string, env: Env): boolean {
  const left = axes.filter((axis) => !value.type.axes.includes(axis));
  // a line that is not finished was told already
  if (left.length === 0 || value.op === 'missing') return true;
  const inside = value.op === 'list' ? ', also inside of each entry' : '';
  env.report.add('given.one-for-many', target(env, given, 'value'), { path, due: perWords(left, env), inside });
  return false;
}

function checkWhole(value: Expr, slotId: SlotId, place: Place, env: Env): void {
  const { type, path } = place.draft.slots[slotId]!;
  const count = type.is === 'measure' && type.measure.kind === 'count';
  if (count && value.op === 'constant' && !Number.isInteger(value.value) && value.at)
    env.report.add('dimension.whole', target(env, value.at), { what: path });
}

/** A part that comes in sizes has none until one is chosen. */
function family(given: ast.Given, slotId: SlotId, env: Env): Expr {
  const { type } = env.draft.slots[slotId]!;
  if (familySizes(given, env) === null) {
    const step = readExpression(given.step, { ...env, report: new Silence() }, dueOf(type));
    if (step.type.value.is !== 'unsettled')
      env.report.add('given.family', target(env, given, 'value'), {
        value: `${textOf(given.value ?? null)} step ${textOf(given.step ?? null)}`,
      });
  }
  return missing(type, `choose one: ${textOf(given.value ?? null)} step ${textOf(given.step ?? null)}`, given);
}

/** A size given for a part of a family must be one that can be bought. */
function checkFamily(given: ast.Given, value: Expr, slotId: SlotId, place: Place, env: Env): void {
  if (given.step || value.op !== 'constant' || value.type.value.is !== 'measure' || !value.at) return;
  const family = familyOf(slotId, place);
  if (!family) return;
  const sizes = familySizes(family.given, { ...env, uri: family.uri });
  if (!sizes || sizes.length === 0) return;
  const figure = value.value;
  const span = Math.max(Math.abs(figure), 1e-12);
  if (sizes.some((size) => Math.abs(size - figure) <= 1e-9 * span)) return;
  const below = sizes.filter((size) => size < figure).at(-1);
  const above = sizes.find((size) => size > figure);
  const unitText = trailingUnit(family.given.value);
  const near = [below, above]
    .filter((size): size is number => size !== undefined)
    .map((size) => shown(size, unitText, env));
  const at = target(env, value.at);
  env.report.add(
    'given.off-step',
    at,
    {
      value: textOf(value.at),
      family: `${textOf(family.given.value ?? null)} step ${textOf(family.given.step ?? null)}`,
      near: `${near.length === 1 ? 'is' : 'are'} ${near.join(' and ')}`,
    },
    { fixes: insteadOf(at, near) },
  );
}

function shown(size: number, unitText: string | undefined, env: Env): string {
  const read = unitText ? env.library.units.parse(unitText) : null;
  if (!read || !('unit' in read)) return fixed(size, 6).replace(/\.?0+$/, '');
  return `${fixed(fromSI(size, read.unit), 6).replace(/\.?0+$/, '')} ${unitText}`;
}
