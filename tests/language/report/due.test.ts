// What is to be measured, in the order of what it settles, and what is to be ordered, with the figures that made it: in JSON and on the sheet.
import { describe, expect, it } from 'vitest';
import type { BuildResult } from '../../../shared/src/result/contract.ts';
import { sheetJson } from '../../../language/src/report/json.ts';
import { filesOf } from '../../../language/src/report/place.ts';
import { whatToDo } from '../../../language/src/report/remedies.ts';
import { sheetModel } from '../../../language/src/report/sheet.ts';
import { sheetText } from '../../../language/src/report/text.ts';
import { run } from '../../reference/run.ts';

const files = filesOf(
  () => undefined,
  (uri) => uri,
);

function built(text: string): { readonly json: BuildResult; readonly sheet: string } {
  const { builds, slips } = run(text);
  expect(slips).toEqual([]);
  const { outcome } = builds[0]!;
  const [json] = sheetJson([outcome], { version: '0', edition: 1, files }).builds;
  const model = sheetModel(outcome, { files, chapters: [], cautions: [], edition: 1, mistakes: 0 });
  return { json: json!, sheet: sheetText(model) };
}

/** Three blocks in a gap: what is unsure of each, and how tight the gap is. */
const stack = (a: string, b: string, c: string, least: string): string =>
  `use prelude 1
component Stack {
  frame: Length as 0.000 mm
  first: Length as 0.000 mm
  second: Length as 0.000 mm
  third: Length as 0.000 mm
  spacer: Length as 0.00 mm bought = 2.00 mm
  derive gap: Length as 0.000 mm = frame - first - second - third
  derive shim-for-gap: Length bought as 0.00 mm = to-step(gap - 0.10 mm, 0.05 mm, nearest)
}
extend Engine { stack: Stack }
build one {
  layout: single
  stack { frame: 100.000 mm, first: ${a} mm, second: ${b} mm, third: ${c} mm }
  expect stack.gap >= ${least} mm
}
`.replace(`derive shim-for-gap: Length bought as 0.00 mm`, `derive shim-for-gap: Length as 0.00 mm bought`);

const ofStack = ({ toMeasure }: BuildResult): [string, number][] =>
  toMeasure.filter(({ path }) => path.startsWith('stack.')).map(({ path, weight }) => [path, weight]);

describe('to be measured', () => {
  it('begins with the figure that brings in most of what is unsure', () => {
    // at risk: the middle less 1.65 u crosses the limit; shares of the variance, half widths 0.02, 0.03 and 0.06
    const { json } = built(stack('30.00 ± 0.02', '30.00 ± 0.06', '39.00 ± 0.03', '0.95'));
    expect(json.checks.find(({ id }) => id.startsWith('expect'))!.state).toBe('at-risk');
    const whole = 0.02 ** 2 + 0.06 ** 2 + 0.03 ** 2;
    expect(ofStack(json)).toEqual([
      ['stack.second', expect.closeTo(0.06 ** 2 / whole, 9)],
      ['stack.third', expect.closeTo(0.03 ** 2 / whole, 9)],
      ['stack.first', expect.closeTo(0.02 ** 2 / whole, 9)],
      ['stack.frame', 0],
    ]);
  });

  it('weighs little what holds with room to spare', () => {
    // u is 0.02 / √3; the room is 1 mm: 1.65 u of it is at stake
    const { json } = built(stack('30.00 ± 0.02', '30.00', '39.00', '0.00'));
    expect(ofStack(json)[0]).toEqual(['stack.first', expect.closeTo((1.65 * 0.02) / Math.sqrt(3), 6)]);
  });

  it('shares a check that cannot be told among what is missing', () => {
    const { json } = built(
      stack('_', '_', '39.00', '0.00')
        .replaceAll('_ mm', '_')
        .replace(/(first|second): _,?/g, ''),
    );
    expect(ofStack(json).slice(0, 2)).toEqual([
      ['stack.first', 0.5],
      ['stack.second', 0.5],
    ]);
  });

  it('stands in the same order on the sheet', () => {
    const { sheet } = built(stack('30.00 ± 0.02', '30.00 ± 0.06', '39.00 ± 0.03', '0.95'));
    const listed = sheet.slice(sheet.indexOf('Still to be measured')).match(/^ {2}Stack \w+/gm);
    expect(listed!.slice(0, 4)).toEqual(['  Stack second', '  Stack third', '  Stack first', '  Stack frame']);
  });

  it('names first, at the finding, what settles most of it', () => {
    const { sheet } = built(stack('30.00 ± 0.02', '30.00 ± 0.06', '39.00 ± 0.03', '0.95'));
    expect(sheet).toMatch(
      /What to do: measure stack second \(73 % of what is unsure\), stack third \(18 % of what is\s+unsure\)/,
    );
  });
});

describe('to be ordered', () => {
  it('are the sizes that were worked out, with the figures that made them', () => {
    const { json, sheet } = built(stack('30.02', '30.00', '39.00', '0.00'));
    expect(json.toOrder.map(({ path, size, unit }) => [path, size, unit])).toEqual([
      ['stack.shim-for-gap', expect.closeTo(0.9, 9), 'mm'],
    ]);
    expect(json.toOrder[0]).toMatchObject({
      label: 'stack.shim-for-gap',
      at: {},
      formula: 'to-step(gap - 0.10 mm, 0.05 mm, nearest)',
      from: [{ name: 'stack.gap', figure: '0.980 mm' }],
    });
    expect(sheet).toMatch(/To be ordered\n─+\n {2}0\.90 mm {2}Stack shim for gap {2,}from stack\.gap 0\.980 mm/);
  });

  it('leave out what somebody wrote down, what is missing and what is a plain default', () => {
    const { json, sheet } = built(
      stack('30.02', '30.00', '39.00', '0.00').replace('frame: 100.000 mm, ', 'spacer: 2.50 mm, '),
    );
    expect(json.toOrder).toEqual([]);
    expect(sheet).not.toContain('To be ordered');
  });
});

describe('to be done', () => {
  const listed = (body: string): string => `use prelude 1
axis task = plugs-out | brushed | oiled
/// Before anything is put together.
component Wash { done: Flag per task ticked }
extend Engine { wash: Wash? }
build one {
  layout: single
  ${body}
}
`;
  it('is every task of a list that is fitted and that nobody has ticked', () => {
    const { json, sheet } = built(
      listed('measured "Wash" on 2026-03-02 by "A. H." { wash.done: [plugs-out: yes, brushed: no] }'),
    );
    expect(json.tasks.map(({ label, done, on, by }) => [label, done, on, by])).toEqual([
      ['wash.done[plugs-out]', true, '2026-03-02', 'A. H.'],
      ['wash.done[brushed]', false, null, null],
      ['wash.done[oiled]', false, null, null],
    ]);
    expect(sheet).toMatch(/Still to be done\n─+\n {2}Wash done: 1 of 3 done\n {4}□ brushed\n {4}□ oiled\n/);
  });
  it('a list that is not fitted asks for nothing', () => {
    const { json, sheet } = built(listed(''));
    expect(json.tasks).toEqual([]);
    expect(sheet).not.toContain('Still to be done');
  });
  it('a list that was worked down says so', () => {
    expect(built(listed('wash.done: yes')).sheet).toContain('Wash done: all done');
  });
});

describe('to be read again', () => {
  const worked = (blocks: string): ReturnType<typeof built> =>
    built(`use prelude 1
component Plate {
  skimmed: Length as 0.000 mm = 0 mm
  hours: Ratio = 0
  height: Length as 0.000 mm falls
  volume: Volume per cylinder as 0.0 cc changed-by skimmed
  height-reading: Length per cylinder as 0.000 mm
  mean-height: Length as 0.000 mm measured by mean(height-reading over cylinder) changed-by hours
  derive room: Length as 0.000 mm = 100 mm - height
}
extend Engine { plate: Plate }
build one {
  layout: inline-2
  plate.height: 60.000 mm
  ${blocks}
}
`);
  const labels = ({ readAgain }: BuildResult): string[] =>
    readAgain.map(({ label, readOn, cut, changed, carriedOver }) =>
      [label, readOn, cut.label, changed.join('+'), ...(carriedOver ? ['carried'] : [])].join(' '),
    );

  it('is what was read before a cut on it, or on what it depends on, by cell', () => {
    const { json, sheet } = worked(
      `measured "In" on 2026-03-01 by "A. H." { plate.volume: [44.1, 44.3] cc   plate.height: 60.01 mm }
       machining "Skim" on 2026-03-10 { plate.skimmed: was + 0.2 mm }
       measured "Out" on 2026-03-12 { plate.volume: [2: 43.0] cc }`,
    );
    expect(labels(json)).toEqual(['plate.volume[1] 2026-03-01 Skim plate.skimmed']);
    expect(sheet).toMatch(
      /To be read again\n─+\n {2}Plate volume, cylinder 1\n {6}read 2026-03-01 by A\. H\.; Skim, 2026-03-10 changed plate skimmed\n/,
    );
  });
  it('names the reading that was taken, not the figure that is made of it', () => {
    const { json } = worked(
      `measured "In" on 2026-03-01 { plate.height-reading: [59.9, 60.1] mm }
       machining "Season" on 2026-10-10 { plate.hours: was + 31 }`,
    );
    expect(labels(json)).toEqual([
      'plate.height-reading[1] 2026-03-01 Season plate.hours',
      'plate.height-reading[2] 2026-03-01 Season plate.hours',
    ]);
  });
  it('a derived value that was read is worked out on from its reading, and says so', () => {
    const { json, sheet } = worked(
      `measured "In" on 2026-03-01 { plate.room: 40.05 mm }
       machining "Skim" on 2026-03-10 { plate.height: 59.8 mm }`,
    );
    expect(labels(json)).toEqual(['plate.room 2026-03-01 Skim plate.height carried']);
    expect(sheet).toMatch(/worked\s+out\s+on\s+from\s+the\s+reading\s+until\s+then/);
  });
  it('nothing is, where the cut came first or everything was read anew', () => {
    const { json, sheet } = worked(
      `machining "Skim" on 2026-03-10 { plate.height: 59.8 mm, plate.skimmed: was + 0.2 mm }
       measured "Out" on 2026-03-12 { plate.volume: [43.1, 43.0] cc   plate.room: 40.2 mm }`,
    );
    expect(json.readAgain).toEqual([]);
    expect(sheet).not.toContain('To be read again');
  });
});

describe('what is worn, and too close to call', () => {
  const worn = (before: string): string => {
    const { builds } = run(`use prelude 1
part fine: Instrument { resolution: 0.002 mm, uncertainty: 0.001 mm, calibrated: 2026-01-10 }
part rough: Instrument { resolution: 0.01 mm, uncertainty: 0.01 mm, calibrated: 2026-01-10 }
build b {
  layout: single
  measured "Built" on 2026-03-01 { block.bore: [80.010] mm with ${before} }
  machining "Season" on 2026-10-18 { hours-run: was + 31 h }
  measured "Taken apart" on 2026-11-02 { block.bore: [80.022] mm with fine }
  tear-down { last-run: 2026-10-18, bore-worn-limits: <= 0.013 mm }
}
`);
    const { outcome } = builds[0]!;
    const check = outcome.checks.find(({ id }) => id === 'tear-down.bore-wear')!;
    expect(check.state).toBe('at-risk');
    return whatToDo(outcome, check);
  };

  it('is not to be read again where the reading of before leaves it open by itself', () => {
    // 0.001 mm from its limit: 1.65 times 0.00058 mm of the fine gauge, 0.0058 mm of the rough one
    expect(worn('fine')).toBe('read it again with a finer instrument');
    expect(worn('rough')).toBe('no reading of today settles it: what it was before is not known well enough');
  });
});
