/** Reads the body of a build, a part or a block, member by member. */
import type * as ast from '../../grammar/generated/ast.ts';
import { resolveGiven, type PathFound } from '../names/paths.ts';
import { envOf } from '../schema/build.ts';
import { demandText, readDemand } from '../schema/rules.ts';
import { axisAmong, labelsOf, noteAxis, noteLabel } from '../types/axes.ts';
import { target, type Env } from '../types/env.ts';
import type { Found } from '../schema/draft.ts';
import type { SchemaRule } from '../schema/schema.ts';
import { readLimits } from '../types/within.ts';
import type { AcceptGiven } from './binding.ts';
import { fittedAt, originOf, type Place } from './collect.ts';
import { bindFigure } from './figures.ts';
import { readBlock } from './history.ts';
import { readNotes } from './notes.ts';
import { bindMountValue } from './parts.ts';

export function envHere(place: Place): Env {
  return envOf(place.draft, place.mount, place.uri, place.setting);
}

export function bindBody(body: ast.Body | undefined, place: Place): void {
  for (const member of body?.members ?? []) {
    switch (member.$type) {
      case 'Given':
        bindGiven(member, place);
        break;
      case 'Machining':
      case 'Measured':
        readBlock(member, place);
        break;
      case 'Expect':
        bindExpect(member, place);
        break;
      case 'Accept':
        bindAccept(member, place);
        break;
      default:
        break;
    }
  }
}

function bindGiven(member: ast.Given, place: Place): void {
  if (!member.path) return;
  const env = envHere(place);
  const path = resolveGiven(member.path, env);
  if (!path) return;
  const here: Place = {
    ...place,
    selector: [...place.selector, ...path.selector],
    notes: readNotes(member.notes, place.notes, env),
  };
  reportTwice(member, path, here, env);
  if (path.found.is === 'slot') {
    const { slot } = path.found;
    const { mount } = place.draft.slots[slot]!;
    fitRound(mount, place);
    if (place.part === null)
      place.into.figuresRead.set(member, { slot, place: here, fitted: fittedAt(mount, place.into.parts) });
    bindFigure(member, slot, here, env);
    return;
  }
  const { mount } = path.found;
  const none = isNone(member.value);
  if (none) {
    place.into.removed.add(mount);
    place.into.fitted.delete(mount);
    return;
  }
  fitRound(mount, place);
  place.into.removed.delete(mount);
  if (member.value) bindMountValue(member.value, mount, here, env);
  if (member.body) bindBody(member.body, { ...here, mount });
}

function isNone(value: ast.Expr | undefined): boolean {
  return value?.$type === 'Ref' && value.steps.length === 1 && value.steps[0]!.name === 'none';
}

/** What is given in it fits an optional part. Practice and defaults fit nothing. */
function fitRound(mount: number, place: Place): void {
  if (place.layer === 'practice' || place.layer === 'mount-default') return;
  for (let at: number | null = mount; at !== null; at = place.draft.mounts[at]!.parent) place.into.fitted.add(at);
}

/** The same figure, or the same cells of it, twice in one block: also where the braces of a part stand twice. */
function reportTwice(member: ast.Given, { found, text }: PathFound, { given, selector }: Place, env: Env): void {
  if (!member.value) return;
  const cells = selector
    .map(({ axis, key }) => `${axis} ${key.label ?? key.number}`)
    .sort()
    .join(', ');
  const what = `${found.is === 'slot' ? `slot ${found.slot}` : `mount ${found.mount}`} ${cells}`;
  const first = given.get(what);
  if (first) {
    const related = [{ target: target(env, first, 'path'), words: 'first here' }];
    env.report.add('given.twice', target(env, member, 'path'), { path: text }, { related });
  }
  given.set(what, member);
}

function bindExpect(member: ast.Expect, place: Place): void {
  if (!member.value) return;
  const demand = readDemand(member.value, envHere(place));
  if (!demand) return;
  place.into.expects.push({
    demand,
    because: member.reason ?? null,
    text: demandText(member.value),
    origin: originOf(member, place),
    inherited: false,
  });
}

function bindAccept(member: ast.Accept, place: Place): void {
  if (!member.target) return;
  const env = envHere(place);
  const rule = member.target.steps.map((step) => step.name).join('.');
  const known = place.draft.rules.find((one) => one.id === rule);
  if (known) noteRule(member.target, known, env);
  else notePath(member.target, env);
  const value = known?.demand.comparisons[0]?.value.type.value;
  const measure = value?.is === 'measure' ? value.measure : null;
  const within = readLimits(member.limits, known?.demand.comparisons[0]?.slot ?? null, measure, rule, env);
  if (!within) return;
  place.into.accepts.push({
    rule,
    selector: acceptedCells(member.target),
    within,
    because: member.reason ?? '',
    origin: originOf(member, place),
  });
}

/** What the words on the way to a check of a size stand for. */
function notePath({ steps }: ast.Path, env: Env): void {
  const { draft, report } = env;
  let mount: number | null = 0;
  for (const step of steps) {
    const inside: Found | null = mount === null ? null : draft.inside(mount, step.name);
    if (inside) report.means(target(env, step, 'name'), { ...inside, draft });
    mount = inside?.is === 'mount' ? inside.mount : null;
  }
}

/** The mounts on the way to a rule, the rule, and the labels of its cells. */
function noteRule({ steps }: ast.Path, rule: SchemaRule, env: Env): void {
  const { draft, report } = env;
  let mount: number | null = 0;
  for (const [i, step] of steps.entries()) {
    const at = target(env, step, 'name');
    const inside: Found | null = mount === null ? null : draft.inside(mount, step.name);
    mount = inside?.is === 'mount' ? inside.mount : null;
    if (i === steps.length - 1) report.means(at, { is: 'rule', draft, id: rule.id });
    else if (inside) report.means(at, { ...inside, draft });
    for (const { value, item } of step.keys) {
      const axes = rule.demand.comparisons[0]?.value.type.axes ?? [];
      const named = item && value.$type === 'Ref' ? axisAmong(value.steps[0]?.name ?? '', axes, env) : null;
      if (typeof named === 'number') noteAxis(value, named, env);
      const key = item ?? value;
      const label = key.$type === 'Ref' ? key.steps[0]?.name : undefined;
      const axis = label === undefined ? undefined : axes.find((one) => labelsOf(one, env)?.includes(label));
      if (axis !== undefined) noteLabel(key, label!, axis, env);
    }
  }
}

/** Cells by label or number; which axis is meant is known with the check. */
function acceptedCells(path: ast.Path): AcceptGiven['selector'] {
  return path.steps.flatMap((step) =>
    step.keys.map((entry) => {
      const value = entry.item ?? entry.value;
      const axisName = entry.item && entry.value.$type === 'Ref' ? (entry.value.steps[0]?.name ?? null) : null;
      const label = value.$type === 'Ref' ? (value.steps[0]?.name ?? null) : null;
      const number = value.$type === 'Quantity' ? Number(value.number) : null;
      return { key: { label, number, at: value }, axisName };
    }),
  );
}
