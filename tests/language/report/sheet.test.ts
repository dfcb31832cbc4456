// The sheet and the explanation as a person reads them, from a hand-made outcome.
import { describe, expect, it } from 'vitest';
import { explain } from '../../../language/src/report/explain.ts';
import { gridLines } from '../../../language/src/report/grid.ts';
import { sheetModel } from '../../../language/src/report/sheet.ts';
import { plainStyle } from '../../../language/src/report/style.ts';
import { sheetText } from '../../../language/src/report/text.ts';
import { files, outcome } from './rig.ts';

const options = {
  files,
  chapters: [],
  cautions: ['Mind your fingers.', 'A sheet is no proof.'],
  edition: 1,
  mistakes: 0,
};

describe('the sheet', () => {
  it('reads: findings, to be measured, sections, cautions', () => {
    expect(sheetText(sheetModel(outcome, options))).toBe(`Build sheet: jig
rig.thou:9, trade library edition 1
A jig to try.
Checks: 1 out of limits.
Figures without a note are as given, or worked out on paper: not all under them is measured.
Figures marked ! are out of limits or at risk.

What does not hold
──────────────────
OUT OF LIMITS, WARNING: Gap at station 2 is 0.0002 in: 0.0098 in under the least, 0.010 in.
    Limits: 0.010..0.020 in, common practice (rig.thou:7)
    Because: a tight plate binds
    What to do: change plate width (a cut only makes it smaller)
    rig.thou:11  gap-even

Still to be measured
────────────────────
  Plate width, station 3  for gap even

Plate
─────
                         station      1      2      3
Width                      in    1.0000 1.0155      —
                           mm     25.40  25.79      —
      1 of 3 missing

From rig.thou
─────────────
Rail  25.80 mm

                         station      1      2      3
Gap                        in     0.016 !0.000      —
      limits 0.010..0.020 in; out of limits at station 2

Cautions
────────
Mind your fingers.
A sheet is no proof.
`);
  });

  it('says when mistakes in the text leave figures out', () => {
    expect(sheetModel(outcome, { ...options, mistakes: 2 }).mistakes).toBe(
      '2 mistakes in the text: figures that rest on them are left out. "thou check" names each.',
    );
  });

  it('stays within 100 columns', () => {
    const long = { ...options, cautions: ['word '.repeat(80).trim()] };
    for (const line of sheetText(sheetModel(outcome, long)).split('\n'))
      expect([...line].length).toBeLessThanOrEqual(100);
  });
});

describe('figures along an axis', () => {
  it('are broken over rows where they are too wide for the page, none lost', () => {
    const model = sheetModel(outcome, options);
    const row = model.sections.flatMap(({ rows }) => rows)[0]!;
    const wide = Array.from({ length: 12 }, (_, at) => ({
      number: `${at + 1}.25 ± 0.05`,
      unit: row.unit,
      second: null,
      plusMinus: null,
    }));
    const heads = wide.map((_, at) => `place ${at + 1}`);
    const lines = gridLines(
      [{ ...row, heads, lines: [{ label: '', figures: wide }], marked: [], second: null }],
      true,
      plainStyle,
    );
    for (const line of lines) expect([...line].length).toBeLessThanOrEqual(100);
    for (const { number } of wide) expect(lines.join('\n')).toContain(` ${number}`);
    for (const head of heads) expect(lines.join('\n')).toContain(head);
  });
});

describe('an explanation', () => {
  it('puts the figures in, says where each is from and whose the limit is', () => {
    expect(explain(outcome, 'gap[1]', { deep: 1, files })).toEqual([
      'gap[1] = 0.016 ± 0.002 in',
      '  What is left between plate and rail.',
      '  On paper: not everything that it rests on is measured.',
      '',
      'Formula (rig.thou:6)',
      '  rail - plate.width',
      '  = 25.80 mm - 1.0000 in',
      '  = 0.016 ± 0.002 in',
      '',
      'Made of',
      '  rail            25.80 mm               given, jig (rig.thou:10)',
      '  plate[1].width   1.0000 in / 25.40 mm  given, jig (rig.thou:11)',
      '',
      'Limits',
      '  Gap even: holds on paper',
      '    Limits: 0.010..0.020 in, common practice (rig.thou:7)',
      '',
      'Source: definition.',
    ]);
  });

  it('lists every place where none is named', () => {
    expect(explain(outcome, 'width', { deep: 1, files })).toEqual([
      'plate[1].width = 1.0000 in / 25.40 mm',
      '  As specified.',
      '',
      'Everywhere',
      '  station 1  1.0000 in / 25.40 mm',
      '  station 2  1.0155 in / 25.79 mm',
      '  station 3  —',
      '',
      'In detail for plate[1].width:',
      '',
      'Where it comes from',
      '     1.000 in  given, jig (rig.thou:11)',
    ]);
  });

  it.each([
    ['widht', 'There is no figure "widht" in this build. Did you mean width?'],
    ['gap[4]', '"4" is no place of gap, which has station 1, 2 or 3.'],
    ['gap[station: 2, 1]', '"1" is no place of gap, which has station 1, 2 or 3.'],
    ['rail[1]', 'There is one rail; it has no "1".'],
    ['__proto__', 'There is no figure "__proto__" in this build.'],
    ['a b(', '"a b(" cannot be read as the name of a figure; write it as in the file, such as length or length[3].'],
  ])('%s: says what is wrong', (name, problem) => {
    expect(explain(outcome, name, { deep: 1, files })).toEqual({ problem });
  });

  it('takes names with the root and with named axes', () => {
    expect(explain(outcome, 'rig.gap[station: 2]', { deep: 1, files })).toContain('gap[2] = 0.000 ± 0.002 in');
  });
});
