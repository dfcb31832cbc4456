/** After any edit the answer is that of a fresh look: whatever was kept from before must not show. */
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Project, type FileResult } from '../../../language/src/semantics/project.ts';
import type { Axis } from '../../../language/src/semantics/evaluate/value.ts';
import { filesOf } from '../../../language/src/report/place.ts';
import { sheetJson } from '../../../language/src/report/json.ts';
import { library } from '../../reference/library.ts';
import { Desk, loadFolder, samples } from './desk.ts';

/** What is found and what comes out in each view, as one text: what a kept plan could have wrong. */
function found({ problems, outcomes }: FileResult): string {
  const builds = outcomes.map(({ checks, causes, toMeasure, slots }) => ({
    checks: checks.map(({ id, state, severity, cells, blame, cause }) => ({
      id,
      state,
      severity,
      cells: cells.map(({ places, state: own, value, low, high, missing }) => ({
        places,
        own,
        value,
        low,
        high,
        missing: missing.map(({ label }) => label),
      })),
      blame: blame.map(({ path }) => path),
      cause,
    })),
    causes: causes.map(({ label, checks: cleared }) => ({ label, cleared })),
    toMeasure: toMeasure.map(({ input, settles }) => ({ label: input.label, settles })),
    // texts are numbered as they come
    figures: slots
      .filter(({ slot }) => slot.type.is === 'measure' || slot.type.is === 'limits')
      .map(({ slot: { path }, states, views }) => `${path} ${plainly([states, views])}`),
  }));
  return JSON.stringify({ problems, builds }, null, 1);
}

/** Arrays of numbers, and what JSON has no word for; of an axis its name and size are enough. */
function plainly(value: unknown): string {
  return JSON.stringify(value, (key, one: unknown) => {
    if (one instanceof Float64Array) return one.join(' ');
    if (one instanceof Uint8Array) return one.join('');
    if (typeof one === 'bigint') return String(one);
    return key === 'axes' ? (one as readonly Axis[]).map(({ id, size }) => `${id} ${size}`) : one;
  });
}

/** All that programs read of a file, how sure each figure is among it: what takes longest by far, so it is looked at when the edits are through. */
function json(project: Project, { outcomes }: FileResult): string {
  const files = filesOf(
    (uri) => project.source(uri),
    (uri) => uri,
  );
  return JSON.stringify(sheetJson(outcomes, { version: '0', edition: 1, files }), null, 1);
}

/** One edit such as a hand makes: a figure changed, a line gone or doubled, a character put in or taken out. */
function edited(text: string, kind: number, at: number, sign: string): string {
  const lines = text.split('\n');
  const line = at % lines.length;
  const place = at % Math.max(1, text.length);
  switch (kind) {
    case 0: {
      const figures = [...text.matchAll(/\d+\.\d+/g)];
      const figure = figures[at % Math.max(1, figures.length)];
      if (!figure) return text;
      const changed = (Number(figure[0]) * (1 + ((at % 7) - 3) / 5000)).toFixed(4);
      return text.slice(0, figure.index) + changed + text.slice(figure.index + figure[0].length);
    }
    case 1:
      return [...lines.slice(0, line), ...lines.slice(line + 1)].join('\n');
    case 2:
      return [...lines.slice(0, line), lines[line], ...lines.slice(line)].join('\n');
    case 3:
      return text.slice(0, place) + sign + text.slice(place);
    default:
      return text.slice(0, place) + text.slice(place + 1);
  }
}

/** Another figure at a place where one stands, as a hand types it: a letter more, one less, a nought. */
function withOtherFigure(text: string, at: number, how: number): string {
  const figures = [...text.matchAll(/(?<![\w.-])\d+(\.\d+)?(?![\w-])/g)].filter(
    ({ index }) => index > text.indexOf('\nbuild '),
  );
  const { 0: figure, index } = figures[at % figures.length]!;
  const typed = [`${figure}5`, figure.slice(0, -1) || '7', figure.replace(/\d$/, '0')][how % 3]!;
  return text.slice(0, index) + typed + text.slice(index + figure.length);
}

const step = fc.record({
  kind: fc.integer({ min: 0, max: 4 }),
  at: fc.nat(1_000_000),
  sign: fc.constantFrom('{', '}', '[', ' ', '\n', '.', 'x', '5', '/', '"', '±'),
  file: fc.nat(20),
  undo: fc.boolean(),
});

describe.each(['fell-427.thou', 'tarn-427.thou', 'skarn-998.thou', 'gill-350.thou'])('%s', (name) => {
  test('random edits, in the file and in what it uses, give what a fresh look gives', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), (steps) => {
        const desk = new Desk();
        loadFolder(desk, samples);
        const uri = join(samples, name);
        const kept = new Project(desk, library);
        kept.check(uri);
        const others = [...desk.texts.keys()].sort();
        for (const [i, { kind, at, sign, file, undo }] of steps.entries()) {
          const target = file < 14 ? uri : others[file % others.length]!;
          const before = desk.texts.get(target)!;
          desk.texts.set(target, edited(before, kind, at, sign));
          const fresh = new Project(desk, library);
          const [now, anew] = [kept.check(uri), fresh.check(uri)];
          expect(found(now)).toBe(found(anew));
          if (i === steps.length - 1) expect(json(kept, now)).toBe(json(fresh, anew));
          if (undo) desk.texts.set(target, before);
        }
      }),
      { numRuns: 4, seed: 20260714, endOnFailure: true },
    );
  }, 1_200_000);

  test('one figure after the other, which the tree is carried on for, gives what a fresh look gives', () => {
    let carried = 0;
    fc.assert(
      fc.property(
        fc.array(fc.record({ at: fc.nat(1_000_000), how: fc.nat(2) }), { minLength: 12, maxLength: 12 }),
        (steps) => {
          const desk = new Desk();
          loadFolder(desk, samples);
          const uri = join(samples, name);
          const kept = new Project(desk, library);
          kept.check(uri);
          for (const [i, { at, how }] of steps.entries()) {
            desk.texts.set(uri, withOtherFigure(desk.texts.get(uri)!, at, how));
            const now = kept.check(uri);
            if (kept.source(uri)!.blocks.some(({ parsed }) => parsed.before)) carried += 1;
            if (i % 3 === 1) void now.problems; // some plans are never asked for
            if (i % 4 === 3) expect(found(now)).toBe(found(new Project(desk, library).check(uri)));
          }
        },
      ),
      { numRuns: 1, seed: 20260715, endOnFailure: true },
    );
    expect(carried).toBeGreaterThan(3);
  }, 600_000);
});
