/**
 * A name in an expression: a choice where one is due, a word of the language, a local, a figure of the own component or
 * of those round it, an axis. The one resolver for values; nothing else looks names up.
 */
import type * as ast from '../../grammar/generated/ast.ts';
import { plainNumber } from '@thou/shared/dimension/types';
import type { Found } from '../schema/draft.ts';
import type { Expr, SlotId } from '../ir.ts';
import type { AxisId } from './type.ts';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { labelsOf, noteAxis, noteLabel, reportNoLabel } from './axes.ts';
import { builtins } from './builtins.ts';
import { readCall } from './calls.ts';
import { due as dueOf, target, type Due, type Env } from './env.ts';
import { readExpression } from './expression.ts';
import { indexed } from './indices.ts';
import { constant, flag, measureOf, missing, nothing, typed, unsettled } from './make.ts';
import { listed, textOf } from './words.ts';

export function readReference(ref: ast.Ref, env: Env, due: Due): Expr {
  const head = ref.steps[0];
  if (!head?.name) return nothing(ref);
  const alone = ref.steps.length === 1 && !head.call && head.keys.length === 0;
  const word = alone ? readWord(ref, head.name, env, due) : null;
  if (word) return word;
  if (head.call && ref.steps.length === 1) return indexedStep(readCall(ref, head, env, due), head, env);
  const local = readLocal(head, env);
  if (local)
    return ref.steps.length === 1 ? indexedStep(local, head, env) : notInside(ref, 1, `"${head.name}"`, [], env);
  const found = env.draft.lookUp(head.name, env.mount) ?? rootAlias(head.name, env);
  if (found) return readPath(ref, found, env);
  return readAxis(ref, head, env) ?? unknownName(ref, head, env, due);
}

/** Words of the language, and choices and labels where one is due. */
function readWord(ref: ast.Ref, name: string, env: Env, due: Due): Expr | null {
  if (due.type?.is === 'choice') {
    const place = due.type.names.indexOf(name);
    if (place >= 0) {
      noteChoice(ref.steps[0]!, name, due.type.names, env);
      return constant(place, due.type, ref);
    }
  }
  if (due.type?.is === 'index') {
    const place = labelsOf(due.type.axis, env)?.indexOf(name) ?? -1;
    if (place >= 0) {
      noteLabel(ref, name, due.type.axis, env);
      return constant(place, due.type, ref);
    }
  }
  switch (name) {
    case 'pi':
      return constant(Math.PI, measureOf(plainNumber), ref);
    case 'yes':
    case 'no':
      return constant(name === 'yes' ? 1 : 0, flag, ref);
    case '_':
      return readBlank(ref, env, due);
    case 'was':
      return readWas(ref, env);
    default:
      return null;
  }
}

/** A word of a choice, with the type that lists it. */
export function noteChoice(step: ast.RefStep, name: string, names: readonly string[], env: Env): void {
  const listed = env.draft.choiceTypes.get(names);
  env.report.means(target(env, step, 'name'), {
    is: 'choice',
    name,
    type: listed?.type ?? null,
    uri: listed?.uri ?? null,
  });
}

/** `_` is a figure that was not taken: it has a place in a list, and none in a formula. */
function readBlank(ref: ast.Ref, env: Env, due: Due): Expr {
  const round = ref.$container;
  const isGiven = round?.$type === 'Given' || (round?.$type === 'Entry' && round.$container?.$type === 'List');
  if (due.type === null && !isGiven) env.report.add('given.blank', target(env, ref));
  return missing(due.type ?? unsettled, null, ref);
}

function readWas(ref: ast.Ref, env: Env): Expr {
  if (env.was === null) {
    env.report.add('given.was', target(env, ref));
    return nothing(ref);
  }
  const slot = env.draft.slots[env.was]!;
  env.report.means(target(env, ref.steps[0]!, 'name'), { is: 'slot', slot: env.was, draft: env.draft });
  return { op: 'was', slot: env.was, type: typed(slot.type, slot.axes), at: ref };
}

export function readLocal(head: ast.RefStep, env: Env): Expr | null {
  const found = env.locals?.find(head.name, (item, locals) =>
    readExpression(item.value, { ...env, locals, unit: null }, dueOf(null)),
  );
  if (!found) return null;
  if (found === 'circle') {
    env.report.add('declare.cycle', target(env, head), { names: `"${head.name}"`, why: 'it needs itself' });
    return nothing(head);
  }
  env.report.means(target(env, head, 'name'), {
    is: 'local',
    uri: env.uri,
    declared: found.at,
    type: found.value.type,
  });
  return { op: 'local', local: found.local, name: head.name, type: found.value.type, at: head };
}

/** The root by its own name: for a figure that the own component hides. */
function rootAlias(name: string, env: Env): Found | null {
  return name === env.draft.rootAlias ? { is: 'mount', mount: 0 } : null;
}

/** From a mount down to a figure; each step may pick cells. */
function readPath(ref: ast.Ref, first: Found, env: Env): Expr {
  let found = first;
  const picks: { readonly step: ast.RefStep; readonly axes: readonly AxisId[] }[] = [];
  for (const [i, step] of ref.steps.entries()) {
    if (i > 0) {
      if (found.is === 'slot') return notInside(ref, i, `"${ref.steps[i - 1]!.name}"`, [], env);
      const next = env.draft.inside(found.mount, step.name);
      if (!next && reportMinus(ref, i, found.mount, env)) return nothing(ref);
      if (!next) return notInside(ref, i, env.draft.mountWords(found.mount), env.draft.namesInside(found.mount), env);
      found = next;
    }
    env.report.means(target(env, step, 'name'), { ...found, draft: env.draft });
    if (step.keys.length > 0)
      picks.push({
        step,
        axes: found.is === 'mount' ? env.draft.ownAxes(found.mount) : env.draft.slots[found.slot]!.axes,
      });
  }
  const last = ref.steps[ref.steps.length - 1]!;
  if (found.is === 'mount') return mountAsValue(ref, found.mount, env);
  const whole = slotRead(found.slot, ref, env);
  const read = last.call ? readCall(ref, last, env, dueOf(null), whole) : whole;
  return picks.reduce((of, { step, axes }) => indexed(of, step.keys, axes, step, env), read);
}

function slotRead(slot: SlotId, at: ast.Ref | ast.Path, env: Env): Expr {
  const { type, axes } = env.draft.slots[slot]!;
  return { op: 'slot', slot, type: typed(type, axes), at };
}

/** A part has no figure of its own; `present(…)` and `given(…)` ask for it through any figure inside. */
function mountAsValue(ref: ast.Ref, mount: number, env: Env): Expr {
  const slot = env.draft.anySlotIn(mount);
  const { component, axes } = env.draft.mounts[mount]!;
  if (slot === null) return nothing(ref);
  return { op: 'slot', slot, type: typed({ is: 'part', component }, axes), at: ref };
}

function indexedStep(expr: Expr, step: ast.RefStep, env: Env): Expr {
  return step.keys.length === 0 ? expr : indexed(expr, step.keys, expr.type.axes, step, env);
}

/** An axis as a value: its quantity where it is numeric, else the place. */
function readAxis(ref: ast.Ref, head: ast.RefStep, env: Env): Expr | null {
  if (ref.steps.length > 1) return null;
  const axis = env.draft.axisNamed(head.name, env.mount);
  if (axis === null) return null;
  noteAxis(ref, axis, env);
  const { measure } = env.draft.axes[axis]!;
  if (measure) return { op: 'coordinate', axis, of: null, type: typed(measureOf(measure), [axis]), at: ref };
  return { op: 'place', axis, type: typed({ is: 'index', axis }, [axis]), at: ref };
}

function notInside(ref: ast.Ref, step: number, owner: string, names: readonly string[], env: Env): Expr {
  const { name } = ref.steps[step]!;
  const near = env.report.nearest(name ?? '', names);
  const at = target(env, ref.steps[step]!, 'name');
  if (name) {
    env.report.add('name.not-inside', at, { owner, name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
  }
  return nothing(ref);
}

function unknownName(ref: ast.Ref, head: ast.RefStep, env: Env, due: Due): Expr {
  const at = target(env, head, 'name');
  const { name } = head;
  if (due.type?.is === 'choice') {
    const near = env.report.nearest(name, due.type.names);
    env.report.add(
      'name.no-such-choice',
      at,
      { name, choices: listed(due.type.names), near: didYouMean(near) },
      { fixes: insteadOf(at, near) },
    );
    return nothing(ref);
  }
  if (due.type?.is === 'index' && labelsOf(due.type.axis, env)) {
    reportNoLabel(name, [due.type.axis], at, env);
    return nothing(ref);
  }
  if (reportMinus(ref, 0, null, env)) return nothing(ref);
  const near = env.report.nearest(name, figuresSeen(env));
  env.report.add('name.unknown', at, { name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
  return nothing(ref);
}

/** `plate.width-height`, `plate.width-other.height`: meant as a subtraction where both halves are known. True where it was, and reported. */
export function reportMinus(ref: ast.Ref, step: number, mount: number | null, env: Env): boolean {
  const { name, call } = ref.steps[step]!;
  const before = ref.steps
    .slice(0, step)
    .map((one) => `${textOf(one)}.`)
    .join('');
  const after = ref.steps.slice(step + 1).map((one) => one.name);
  for (let dash = name.indexOf('-'); dash > 0; dash = name.indexOf('-', dash + 1)) {
    const [left, right] = [name.slice(0, dash), name.slice(dash + 1)];
    const leftKnown = mount === null ? isFigure([left], null, env) : isFigure([left], mount, env);
    const rightKnown = call
      ? builtins.has(right) || env.library.functions.has(right)
      : isFigure([right, ...after], null, env) || /^\d+$/.test(right);
    if (!leftKnown || !rightKnown) continue;
    const at = target(env, ref.steps[step]!, 'name');
    const mended = `${before}${left} - ${[right, ...after].join('.')}${call ? textOf(call) : ''}`;
    env.report.add(
      'name.minus',
      at,
      { name: `${before}${[name, ...after].join('.')}`, mended },
      { fixes: [{ title: mended, edits: [{ target: at, text: `${left} - ${right}`, place: 'instead' }] }] },
    );
    return true;
  }
  return false;
}

/** Whether a path leads to a figure: from a mount, or (null) from where the formula stands. */
function isFigure(names: readonly string[], mount: number | null, env: Env): boolean {
  const [first = '', ...rest] = names;
  if (mount === null && rest.length === 0 && env.locals?.names().includes(first)) return true;
  let found =
    mount === null ? (env.draft.lookUp(first, env.mount) ?? rootAlias(first, env)) : env.draft.inside(mount, first);
  for (const name of rest) found = found?.is === 'mount' ? env.draft.inside(found.mount, name) : null;
  return found?.is === 'slot';
}

/** Whether a name stands for a figure, a part or an axis here. */
export function isKnown(name: string, env: Env): boolean {
  return (
    env.locals?.names().includes(name) === true ||
    env.draft.lookUp(name, env.mount) !== null ||
    env.draft.axisNamed(name, env.mount) !== null
  );
}

/** Every name that could stand here without brackets behind it. */
function figuresSeen(env: Env): string[] {
  return [...(env.locals?.names() ?? []), ...env.draft.namesSeen(env.mount), ...env.draft.axisNames(env.mount), 'pi'];
}
