/** `on`, `with`, `by`, `at`, `because` behind a figure or a block's name, in any order. */
import type * as ast from '../../grammar/generated/ast.ts';
import { namedMeasures } from '@thou/shared/dimension/types';
import { didYouMean } from '../problems/messages.ts';
import { insteadOf } from '../problems/report.ts';
import { due as dueOf, target, type Env } from '../types/env.ts';
import { readExpression } from '../types/expression.ts';
import { measureOf } from '../types/make.ts';
import type { Notes } from './collect.ts';
import { instrumentComponent } from './instruments.ts';

export function readNotes(notes: readonly ast.Note[], round: Notes, env: Env): Notes {
  let read = round;
  for (const note of notes) {
    if (note.date) read = { ...read, date: note.date };
    else if (note.hand) read = { ...read, hand: note.hand };
    else if (note.reason) read = { ...read, reason: note.reason };
    else if (note.instrument) read = { ...read, instrument: instrument(note.instrument, note, env) };
    else if (note.word === 'at' && note.value) read = { ...read, temperature: temperature(note.value, env) };
    else if (note.word) env.report.add('given.note', target(env, note, 'word'), { word: note.word });
  }
  return read;
}

function instrument(name: string, note: ast.Note, env: Env): string {
  const seen = env.parts.find(name);
  if (seen?.item.kind !== instrumentComponent) {
    if (!seen && !env.parts.complete) return name;
    const near = env.report.nearest(name, env.parts.names(instrumentComponent));
    const at = target(env, note, 'instrument');
    env.report.add('given.instrument', at, { name, near: didYouMean(near) }, { fixes: insteadOf(at, near) });
  } else env.report.means(target(env, note, 'instrument'), { is: 'part', origin: { uri: seen.uri, at: seen.item } });
  return name;
}

function temperature(value: ast.Quantity, env: Env): number | null {
  const read = readExpression(
    value,
    env,
    dueOf(measureOf(namedMeasures.get('Temperature')!), [], 'the temperature of a reading'),
  );
  return read.op === 'constant' ? read.value : null;
}
