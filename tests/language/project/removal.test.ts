/** One word taken out of a sample: whatever it was, one message or little more, and on the right line. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Project } from '../../../language/src/semantics/project.ts';
import { library } from '../../reference/library.ts';
import { Desk, loadFolder, samples } from './desk.ts';

const word = /\/\/[^\n]*|"[^"\n]*"|[A-Za-z_]\w*(?:-\w+)*|\d+(?:\.\d+)?|\.\.|[^\s\w]/g;

interface Tally {
  readonly removals: number;
  readonly silent: readonly string[];
  readonly messages: number;
  readonly nearLine: number;
}

function tally(name: string, every: number): Tally {
  const desk = new Desk();
  loadFolder(desk, samples);
  const uri = join(samples, name);
  const text = readFileSync(uri, 'utf8');
  const project = new Project(desk, library);
  const before = new Set(project.check(uri).problems.map(({ code, message }) => `${code} ${message}`));
  const words = [...text.matchAll(word)].filter(([one]) => !one.startsWith('//')).filter((_, at) => at % every === 0);
  const silent: string[] = [];
  let [messages, nearLine] = [0, 0];
  for (const match of words) {
    const without = text.slice(0, match.index) + text.slice(match.index + match[0].length);
    desk.texts.set(uri, without);
    const fresh = project.check(uri).problems.filter(({ code, message }) => !before.has(`${code} ${message}`));
    const lineOf = (of: string, offset: number): number => of.slice(0, offset).split('\n').length;
    if (fresh.length === 0) silent.push(match[0]);
    else if (Math.abs(lineOf(without, fresh[0]!.start) - lineOf(text, match.index)) <= 1) nearLine++;
    messages += fresh.length;
  }
  return { removals: words.length, silent, messages, nearLine };
}

describe.each([
  ['gill-350.thou', 1],
  ['fell-427.thou', 2],
  ['tarn-427.thou', 7],
  ['skarn-998.thou', 3],
])('%s, every word or one in %i', (name, every) => {
  const found = tally(name, every);
  const told = found.removals - found.silent.length;

  test('at most 1.3 messages on average', () => {
    expect(found.removals).toBeGreaterThan(50);
    expect(found.messages / told).toBeLessThanOrEqual(1.3);
  });

  test('the first on the right line in at least 90 %', () => {
    expect(found.nearLine / told).toBeGreaterThanOrEqual(0.9);
  });

  test('only what may be left out is left out without a word', () => {
    // a comma between figures that stand apart, a block's own label, one sign of two that both mean something, a word before a sign
    const mayGo = /^([,=<>?]|\.\.|-|"[^"]*"|was|[+*/]|\d+(\.\d+)?|limits|per)$/;
    expect(found.silent.filter((one) => !mayGo.test(one))).toEqual([]);
  });
});
