/**
 * Nothing that is said of a build disagrees with another: sheet, explanation, hover, findings and comparison against the JSON, in every build
 * of every sample. Figures are read back out of the words, with their units.
 */
import { describe, expect, test } from 'vitest';
import { fromSI, standardUnits, toSI } from '@thou/shared/unit/unit';
import type { BuildResult, Nested } from '../../../shared/src/result/contract.ts';
import { compareResult } from '../../../language/src/report/compare.ts';
import { condensed } from '../../../language/src/report/condensed.ts';
import { stateWords } from '../../../language/src/report/check-words.ts';
import { explain } from '../../../language/src/report/explain.ts';
import { message } from '../../../language/src/report/findings.ts';
import { sheetJson } from '../../../language/src/report/json.ts';
import { locate } from '../../../language/src/report/locate.ts';
import { cellAt, placesOf } from '../../../language/src/report/cells.ts';
import { sheetModel } from '../../../language/src/report/sheet.ts';
import type { CheckState, Outcome } from '../../../language/src/semantics/plan/outcome.ts';
import { hoverAt } from '../../../language/src/services/hover/hover.ts';
import { samples, workspaceOf } from '../services/open.ts';

const workspace = workspaceOf(samples);
const { files } = workspace;
const builds = [...samples.keys()]
  .filter((path) => path.endsWith('.thou'))
  .flatMap((path) =>
    workspace.result(`file:///${path}`).outcomes.map((outcome) => [outcome.binding.name, path, outcome] as const),
  );
const json = new Map<Outcome, BuildResult>(
  builds.map(([, , outcome]) => [outcome, sheetJson([outcome], { version: '0', edition: 1, files }).builds[0]!]),
);

function flat<T>(rows: Nested<T>): readonly T[] {
  return Array.isArray(rows) ? (rows as readonly Nested<T>[]).flatMap((row) => flat(row)) : [rows as T];
}

/** A figure as a reader takes it, in SI, with half of its last digit; null where it is no plain number. */
function read(number: string, unit: string): { readonly si: number; readonly half: number } | null {
  if (!/^-?\d+(\.\d+)?$/.test(number)) return null;
  const half = 0.5 * 10 ** -(number.split('.')[1]?.length ?? 0);
  if (unit === '') return { si: Number(number), half };
  const parsed = standardUnits.parse(unit);
  if (!('unit' in parsed)) throw new Error(`the unit ${unit} cannot be read back`);
  return { si: toSI(Number(number), parsed.unit), half: half * parsed.unit.factor };
}

interface Said {
  readonly number: string;
  readonly unit: string;
  readonly plusMinus: string | null;
}

/** `10.63 ± 0.01`, `0.0390 ± 0.0006 in / 0.991 mm`. */
function said(text: string): Said | null {
  // a span, or a count, is no figure
  if (/ to |figures|alike/.test(text)) return null;
  const found = /^(-?\d[\d.]*)(?: ± ([\d.]+))?(?: ([^\s/±][^\s]*))?(?: \/ .*)?$/.exec(text.trim());
  return found && { number: found[1]!, plusMinus: found[2] ?? null, unit: found[3] ?? '' };
}

class Agreement {
  compared = 0;
  private readonly outcome: Outcome;
  private readonly values: BuildResult['values'];

  constructor(outcome: Outcome) {
    this.outcome = outcome;
    this.values = json.get(outcome)!.values;
  }

  /** What is said of one cell against what the JSON has there. */
  holds(path: string, cell: number, { number, unit, plusMinus }: Said, where: string): void {
    const value = this.values[path]!;
    const told = read(number, unit);
    const si = flat(value.si)[cell];
    if (told === null || typeof si !== 'number') return;
    this.compared++;
    // figures along steps are written with seven digits
    const short = value.along === undefined ? 0 : 1e-6;
    expect(
      Math.abs(told.si - si),
      `${where}: ${path}, cell ${cell}: ${number} ${unit} where ${si} is due`,
    ).toBeLessThanOrEqual(told.half * (1 + 1e-6) + (1e-9 + short) * Math.abs(si));
    const own = value.unit === null ? null : standardUnits.parse(value.unit);
    if (own && 'unit' in own && own.unit.offset === 0)
      expect(
        Math.abs((flat(value.value)[cell] as number) - fromSI(si, own.unit)),
        `${path} in ${value.unit}`,
      ).toBeLessThanOrEqual(5e-10 + short * Math.abs(fromSI(si, own.unit)));
    if (plusMinus === null || value.along !== undefined) return;
    const u = flat(value.uncertainty)[cell];
    const margin = read(plusMinus, unit)!;
    const offset = unit === '' ? 0 : read('0', unit)!.si;
    const factor = own && 'unit' in own ? own.unit.factor : 1;
    expect(Math.abs(margin.si - offset - 2 * u! * factor), `${where}: ± of ${path}, cell ${cell}`).toBeLessThanOrEqual(
      margin.half * (1 + 1e-6),
    );
  }

  /** A name with its places, as a reader would write it. */
  named(name: string, text: string, where: string): void {
    const found = locate(this.outcome, name);
    const figure = said(text);
    if ('problem' in found || figure === null) return;
    this.holds(
      found.one.slot.path,
      cellAt(
        found.one.axes,
        found.places.map((place) => place ?? 0),
      ),
      figure,
      where,
    );
  }
}

describe.each(builds)('%s in %s', (_, path, outcome) => {
  const result = json.get(outcome)!;
  /** A test that compares nothing shows nothing. */
  const fewest = 25;
  const measured = outcome.slots.filter(({ slot }) => slot.type.is === 'measure');

  test('the sheet says what the JSON says, and marks what is out', () => {
    const agreement = new Agreement(outcome);
    const model = sheetModel(outcome, { files, chapters: [], cautions: [], edition: 1, mistakes: 0 });
    for (const { singles, rows } of model.sections) {
      for (const { address, views } of singles) agreement.named(address, textOf(views.measured), 'the sheet');
      for (const { address, heads, lines, unit } of rows) {
        const [now] = lines;
        now?.figures.forEach((figure, at) => {
          const found = locate(outcome, address);
          if ('problem' in found || found.places.filter((place) => place === null).length !== 1) return;
          const axis = found.places.indexOf(null);
          if (found.one.axes[axis]!.size !== heads.length) return;
          const places = found.places.map((place) => place ?? at);
          agreement.holds(
            found.one.slot.path,
            cellAt(found.one.axes, places),
            { ...figure, unit: figure.unit || unit },
            'the sheet',
          );
        });
      }
    }
    expect(agreement.compared).toBeGreaterThan(fewest);
    expect(new Set(model.findings.map(({ id, state }) => `${id}: ${state}`))).toEqual(
      new Set(
        result.checks
          .filter(({ state }) => ['out-of-limits', 'at-risk', 'accepted'].includes(state))
          .map(({ id, state }) => `${id}: ${state}`),
      ),
    );
  });

  test('the explanation says what the JSON says, of every cell', () => {
    const agreement = new Agreement(outcome);
    for (const { slot, axes, states } of measured) {
      const cell = states.length - 1;
      if (cell < 0 || states[cell] === 'missing' || states[cell] === 'not-applicable') continue;
      const places = placesOf(axes, cell).map((place, at) => axes[at]!.labels?.[place] ?? axes[at]!.coordinates[place]);
      const name = places.length === 0 ? slot.path : `${slot.path}[${places.join(', ')}]`;
      const lines = explain(outcome, name, { deep: 1, files });
      if ('problem' in lines) continue;
      agreement.named(name, lines[0]!.slice(lines[0]!.indexOf(' = ') + 3), 'the explanation');
    }
    expect(agreement.compared).toBeGreaterThan(fewest);
  });

  test('the hover says what the JSON says, with the state of each check', () => {
    const { uri, at } = outcome.binding.origin;
    expect(uri).toBe(`file:///${path}`);
    const text = workspace.source(uri)!.text;
    const block = workspace.source(uri)!.blocks.find(({ parsed }) => parsed.item === at)!;
    const agreement = new Agreement(outcome);
    for (const { index } of text
      .slice(block.offset, block.offset + at.$cstNode!.text.length)
      .matchAll(/[a-z][\w-]*(?=\s*[:[.{]|\s+within)/g)) {
      const found = hoverAt(workspace, uri, block.offset + index, false);
      const words = (found?.contents as { value: string } | undefined)?.value.replace(/\*/g, '').split('\n') ?? [];
      const [head = ''] = words;
      const [name = '', figure = ''] = head.split(/ = (.*)/);
      agreement.named(name, figure, 'the hover');
      const own = result.checks.filter(({ path: about }) => about === name.replace(/\[[^\]]*\]/g, ''));
      const told = words.flatMap(
        (line) =>
          /^(.*): (holds, measured|holds on paper|at risk|out of limits|accepted|cannot tell)$/.exec(line)?.[2] ?? [],
      );
      const known = own
        .flatMap(({ state, cells }) => [state, ...cells.map((one) => one.state)])
        .map((state) => stateWords[state as CheckState]);
      for (const state of told) expect(known, `${name} in the hover`).toContain(state);
    }
    // a variant says little of its own
    if (outcome.binding.base === null) expect(agreement.compared).toBeGreaterThan(3);
  });

  test('a finding says the figure and the limit that the JSON has', () => {
    for (const check of outcome.checks) {
      const told = result.checks.find(({ id }) => id === check.id)!;
      expect(told.state).toBe(check.state);
      expect(told.message).toBe(message(outcome, check, files));
      const out =
        /(?:is|, )\s?(-?[\d.]+)(?: ([^\s:]+))?: (-?[\d.]+)(?: [^\s:]+)? (?:under|over) the (least|greatest), (-?\d+(?:\.\d+)?)/.exec(
          told.message,
        );
      if (out === null || told.value === null) continue;
      const figure = read(out[1]!, out[2] ?? '')!;
      const own = told.unit === null ? null : standardUnits.parse(told.unit);
      const si = own && 'unit' in own ? toSI(told.value, own.unit) : told.value;
      expect(Math.abs(figure.si - si), told.message).toBeLessThanOrEqual(figure.half * (1 + 1e-6));
      const limit = (out[4] === 'least' ? told.limits!.min : told.limits!.max)!;
      const limitSi = own && 'unit' in own ? toSI(limit, own.unit) : limit;
      const toldLimit = read(out[5]!, out[2] ?? '')!;
      expect(Math.abs(toldLimit.si - limitSi), told.message).toBeLessThanOrEqual(toldLimit.half * (1 + 1e-6));
    }
  });

  test('the comparison says what the JSON says', () => {
    const { figures, checks } = compareResult([condensed(outcome, 'a.thou'), condensed(outcome, 'b.thou')], '0');
    for (const { path: name, unit, values, differs } of figures) {
      expect(differs, name).toBe(false);
      const told = flat(values[0]!);
      const read = unit === null ? null : standardUnits.parse(unit);
      const { si: rows, along } = result.values[name]!;
      const si = flat(rows);
      // figures along steps are written with seven digits
      const short = along === undefined ? 1e-9 : 1e-6;
      told.forEach((figure, cell) => {
        if (typeof figure !== 'number') return;
        const own = read && 'unit' in read ? toSI(figure, read.unit) : figure;
        expect(Math.abs(own - (si[cell] as number)), name).toBeLessThanOrEqual(short * Math.abs(own) + 1e-15);
      });
    }
    expect(checks.map(({ id, states }) => [id, states[0]])).toEqual(result.checks.map(({ id, state }) => [id, state]));
  });
});

function textOf({ number, unit, plusMinus }: Said): string {
  return [number, plusMinus === null ? '' : `± ${plusMinus}`, unit].filter((part) => part !== '').join(' ');
}

test('a figure that is not what the JSON has is found', () => {
  const [, , outcome] = builds.find(([name]) => name === 'tarn-427')!;
  const agreement = new Agreement(outcome);
  expect(() => agreement.named('main-clearance[3]', '0.0020 in', 'a try')).toThrow(/where/);
  agreement.named('main-clearance[3]', '0.0019 in', 'a try');
  expect(agreement.compared).toBe(2);
});
