/** Springs and shims of the two sample jobs to the last digit, what must stay quiet, and the words that must go with a figure that can hurt. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { docOf, parseFile } from '../../language/src/grammar/file.ts';
import { filesOf } from '../../language/src/report/place.ts';
import { sectionsOf } from '../../language/src/report/sections.ts';
import { hoverAt } from '../../language/src/services/hover/hover.ts';
import { workspaceOf } from '../language/services/open.ts';
import { library } from './library.ts';
import { engine, unit } from './rows/row.ts';
import { run, runSample, type Result } from './run.ts';

const inches = (result: Result, path: string, decimals: number): number[] =>
  result.figures(path).map((figure) => Number((figure / unit.in).toFixed(decimals)));
const pounds = (result: Result, path: string): number => Number((result.figures(path)[0]! / unit.lbf).toFixed(1));
const springs = (cells: readonly string[]): readonly string[] =>
  cells.filter((cell) => /coil-bind|nest|spring|shims-leave|seat|retainer/.test(cell));

describe('the inner springs of Tarn 427', () => {
  const ran = runSample('tarn-427.thou');
  const tarn = ran.build('tarn-427');
  const mended = ran.build('deeper-inner-seats');

  test('margins of outer and inner: 0.159 and 0.043, 0.154 and 0.038 in', () => {
    expect(inches(tarn, 'intake.coil-bind-margin', 3)).toEqual([0.159, 0.043]);
    expect(inches(tarn, 'exhaust.coil-bind-margin', 3)).toEqual([0.154, 0.038]);
  });
  test('loads: 134.4 on the seat, 384.1 and 386.0 lbf open', () => {
    // 330 × 0.320 + 115 × 0.250 = 134.35 is printed as 134.4
    expect(tarn.figures('intake.seat-load')[0]! / unit.lbf).toBeCloseTo(134.35, 9);
    expect(tarn.figures('exhaust.seat-load')[0]! / unit.lbf).toBeCloseTo(134.35, 9);
    expect(pounds(tarn, 'intake.open-load')).toBe(384.1);
    expect(pounds(tarn, 'exhaust.open-load')).toBe(386);
  });
  test('the inner ones are found, the outer ones are fine, nothing else is said of the springs', () => {
    expect(springs(tarn.cellsIn('out-of-limits'))).toEqual(['intake.coil-bind[inner]', 'exhaust.coil-bind[inner]']);
    expect(springs(tarn.cellsIn('at-risk', 'cannot-tell'))).toEqual([]);
  });
  test('0.012 in of deeper inner seat mends both sides', () => {
    expect(inches(mended, 'intake.coil-bind-margin', 3)).toEqual([0.159, 0.055]);
    expect(inches(mended, 'exhaust.coil-bind-margin', 4)).toEqual([0.1544, 0.0504]);
    expect(springs(mended.cellsIn('out-of-limits', 'at-risk', 'cannot-tell'))).toEqual([]);
  });
  test('0.011 in would not do on the exhaust', () => {
    const need = 0.05 - tarn.figures('exhaust.coil-bind-margin')[1]! / unit.in;
    expect(need).toBeGreaterThan(0.011);
    expect(need).toBeLessThanOrEqual(0.012);
  });
});

describe('the shims of Skarn 998', () => {
  const skarn = runSample('skarn-998.thou').build('skarn-998');
  const valves = skarn.figures('shim-choice').map((place) => place + 1);

  test('out of range are 4, 7, 11, 13 and 14', () => {
    const lash = ['intake', 'exhaust'].flatMap((side, at) =>
      skarn
        .check(`${side}.valve-lash`)
        .cells.flatMap(({ state }, cell) => (state === 'out-of-limits' ? [cell + 1 + 8 * at] : [])),
    );
    expect(lash).toEqual([4, 7, 11, 13, 14]);
  });
  test('7 takes 13’s shim, 8 takes 7’s, 11 takes 8’s, 13 takes 11’s, 14 takes 4’s; 4 gets a new one; the others stay', () => {
    expect(valves).toEqual([1, 2, 3, 17, 5, 6, 13, 7, 9, 10, 8, 12, 11, 4, 15, 16]);
  });
  test('which leaves 0.15, 0.175, 0.235, 0.22, 0.25 and, at 4, 0.16 mm', () => {
    const lash = skarn.figures('lash-chosen').map((figure) => Number((figure / unit.mm).toFixed(6)));
    expect([7, 8, 11, 13, 14, 4].map((valve) => lash[valve - 1])).toEqual([0.15, 0.175, 0.235, 0.22, 0.25, 0.16]);
  });
  test('one to buy, 2.55 mm', () => {
    const bought = skarn.figures('shim-to-buy').filter((figure) => !Number.isNaN(figure));
    expect(bought.map((figure) => Number((figure / unit.mm).toFixed(6)))).toEqual([2.55]);
  });
  test('valve 14 sits on its limit and is told to be at risk; 8 is, by the uncertainty of the blades, 0.005 mm from it', () => {
    const named = skarn.cellsIn('at-risk', 'out-of-limits').filter((cell) => cell.startsWith('shim-choice-lash'));
    expect(named).toEqual(['shim-choice-lash[8]', 'shim-choice-lash[14]']);
  });
  test('where the shims to go in are named, they are ordered, and no others', () => {
    const row = run(
      engine(`layout: single
        intake { lash-limits: 0.10..0.20 mm, shim-step: 0.05 mm, lash: 0.05 mm, shim: 2.50 mm, shim-to-fit: 2.40 mm }
        exhaust { lash-limits: 0.10..0.20 mm, shim-step: 0.05 mm, lash: 0.30 mm, shim: 2.35 mm }`),
    ).build('row');
    expect([row.figures('intake.shims-named'), row.figures('exhaust.shims-named')]).toEqual([[1], [0]]);
    expect(row.figures('intake.shim-to-order')[0]! / unit.mm).toBeCloseTo(2.4, 9);
    expect(row.figures('shim-to-buy').every(Number.isNaN)).toBe(true);
    expect(row.check('shim-choice-lash').state).toBe('not-applicable');
    expect(row.check('intake.valve-lash').state).toMatch(/^holds/);
    expect(row.check('exhaust.valve-lash').state).toBe('out-of-limits');
  });
  test('shims of two diameters stay on their side', () => {
    const text = readFileSync(new URL('../../samples/skarn-998.thou', import.meta.url), 'utf8');
    expect(text).toContain('shim-step: 0.025 mm');
    const row = run(
      engine(`layout: single
        intake { valves-per-cylinder: 1, lash-limits: 0.10..0.20 mm, shim-step: 0.05 mm, shim-diameter: 9 mm, lash: 0.10 mm, shim: 2.50 mm }
        exhaust { valves-per-cylinder: 1, lash-limits: 0.10..0.20 mm, shim-step: 0.05 mm, shim-diameter: 10 mm, lash: 0.30 mm, shim: 2.35 mm }`),
    ).build('row');
    // the exhaust wants 2.50 mm, which lies under the intake but does not fit: it is bought
    expect(row.figures('shim-choice')).toEqual([0, 2]);
    const alike = run(
      engine(`layout: single
        intake { lash-limits: 0.10..0.20 mm, shim-step: 0.05 mm, lash: 0.00 mm, shim: 2.50 mm }
        exhaust { lash-limits: 0.10..0.20 mm, shim-step: 0.05 mm, lash: 0.30 mm, shim: 2.35 mm }`),
    ).build('row');
    expect(alike.figures('shim-choice')).toEqual([1, 0]);
  });
});

describe('what stays quiet', () => {
  const chapters = /^(intake|exhaust|pushrod|carburettor|injector|shim)|power-correction/;
  const spoken = (members: string): readonly string[] => {
    const { slips, ...ran } = run(engine(members));
    expect(slips).toEqual([]);
    return ran
      .build('row')
      .cellsIn('out-of-limits', 'at-risk', 'cannot-tell')
      .filter((cell) => chapters.test(cell));
  };
  test.each([
    ['a build without a valve train', 'layout: vee-8-cross'],
    ['a cam card and nothing else', 'layout: vee-8-cross\nintake { lobe { lift: 0.362 in, centreline: 106 deg } }'],
    [
      'one spring, no lift',
      'layout: single\nintake.spring[outer] { rate: 330 lbf/in, free-height: 2.2 in, installed: 1.9 in }',
    ],
    ['weights only', 'layout: single\nintake { valve.mass: 100 g, retainer.mass: 20 g }'],
    ['a rocker with its ratio only', 'layout: single\nintake { rocker-ratio: 1.6, rocker.fixing: stud }'],
    ['a pushrod without a checker', 'layout: vee-8-cross\npushrod.mass: 60 g'],
    ['a flow sheet without its depression', 'layout: single\nintake.flow: [0.1: 60, 0.5: 250] in -> cfm'],
    ['an injector without its rail', 'layout: single\ninjector.rated-flow: 440 cm^3/min'],
    ['a guide and a seat by name', 'layout: single\nintake { guide.material: bearing-bronze, seat.angle: 45 deg }'],
    ['a carburettor by its card', 'layout: single\ncarburettor { rated-flow: 500 cfm, rated-at: 3 inHg }'],
  ])('%s', (_, members) => expect(spoken(members)).toEqual([]));
});

describe('on the sheet', () => {
  const sections = (members: string) =>
    sectionsOf(run(engine(members)).build('row').outcome, {
      files: filesOf(
        () => undefined,
        () => '',
      ),
      chapters: library.files.map(({ uri }) => ({ uri, title: uri })),
    });
  const partsOf = (members: string, title: string): readonly string[] =>
    sections(members).find((section) => section.title === title)?.parts ?? [];
  test('metals that are taken for granted are told of beside figures of their own part only', () => {
    expect(sections('layout: single').map(({ title }) => title)).not.toContain('Exhaust');
    expect(partsOf('layout: single\nintake.lobe.lift: 9 mm', 'Intake')).toEqual([]);
    expect(partsOf('layout: single\nintake.guide.bore: 7 mm', 'Intake')).toEqual([
      expect.stringMatching(/^Guide material: bearing-bronze\b/),
    ]);
    expect(partsOf('layout: single\nintake.guide.material: grey-iron', 'Intake')).toEqual([
      expect.stringMatching(/^Guide material: grey-iron\b/),
    ]);
  });
});

describe('words that go with a figure', () => {
  const inFiles = library.files.flatMap(({ uri, text }) =>
    parseFile(uri, text).blocks.flatMap(({ parsed: { item } }) => {
      if (!item) return [];
      const inside = item.$type === 'Component' || item.$type === 'Extend' ? (item.body?.declarations ?? []) : [];
      return [item, ...inside].map((one) => ({ uri, one }));
    }),
  );
  const declared = inFiles.map(({ one }) => one);
  const fileOf = inFiles.map(({ uri }) => uri);
  const cautions = readFileSync(new URL('../../language/prelude/cautions.txt', import.meta.url), 'utf8').split('\n');
  test('every caution of a figure is one of those that end the sheet', () => {
    const said = declared.flatMap((item) =>
      [...(docOf(item) ?? '').matchAll(/Caution: (.*)/g)].map(([, text]) => text),
    );
    expect(said.length).toBeGreaterThan(0);
    for (const text of said) expect(cautions).toContain(text);
  });
  /** Kinds of figures that lead somebody to where it can hurt, in the files of chapters 8 to 11. */
  const kinds: readonly {
    readonly about: string;
    readonly files: RegExp;
    readonly is: RegExp;
    readonly caution: RegExp;
    readonly fewest: number;
  }[] = [
    {
      about: 'a load of valve springs',
      files: /springs|valve-motion/,
      is: /^(derive (?!rigid)[\w-]+: Force|load-reading:)/,
      caution: /^Compressed valve springs/,
      fewest: 9,
    },
    {
      about: 'a shim or a height, for which the springs come off',
      files: /springs|seats/,
      is: /^(derive (spring-shims|shim-for-target|height-shims?):|installed-height-reading:)/,
      caution: /^Compressed valve springs/,
      fewest: 5,
    },
    {
      about: 'a speed of the crank, or a force at one',
      files: /valve-|breathing/,
      is: /^derive ([\w-]+: RotationalSpeed|rigid-train-force)/,
      caution: /^The speeds here/,
      fewest: 4,
    },
    {
      about: 'a figure for which the crank is turned by hand',
      files: /cam|clearances|rockers|pushrods/,
      is: /^(derive )?(centreline|equal-lift-rising|readings|key-to-fit|sprocket-turn|valve-to-piston(-at)?|valve-to-valve|clearance-check|checker-reading|checker-length):/,
      caution: /^Keep hands, hair and clothes away/,
      fewest: 11,
    },
    {
      about: 'fuel under pressure',
      files: /breathing/,
      is: /^(derive (fuel-flow|flow-needed|duty-at-redline|pulse):|rail-gauge:)/,
      caution: /^Fuel leaks and ignites/,
      fewest: 5,
    },
  ];
  test.each(kinds)('$about carries its caution', ({ files, is, caution, fewest }) => {
    const found = declared.filter((item, at) => files.test(fileOf[at]!) && is.test(item.$cstNode?.text ?? ''));
    const bare = found.filter((item) => {
      const said = [...(docOf(item) ?? '').matchAll(/Caution: (.*)/g)].map(([, text]) => text!);
      return !said.some((text) => caution.test(text));
    });
    expect(bare.map((item) => ('name' in item ? item.name : ''))).toEqual([]);
    expect(found.length).toBeGreaterThanOrEqual(fewest);
  });
  test('the hover of such a figure says its caution', () => {
    const text = 'use prelude 1\nbuild row {\n  layout: single\n  expect intake.seat-load >= 100 lbf\n}\n';
    const workspace = workspaceOf({ 'row.thou': text });
    const hover = hoverAt(workspace, 'file:///row.thou', text.indexOf('seat-load') + 2, false);
    expect(JSON.stringify(hover)).toContain('Compressed valve springs hold enough force');
  });
  test('a limit of speed is never without "upper bound, rigid train": in its name, its doc and its message', () => {
    const bound = declared.filter((item) => 'name' in item && /rigid-train/.test(item.name ?? ''));
    expect(bound.length).toBeGreaterThanOrEqual(5);
    for (const item of bound) {
      const said = `${docOf(item)} ${item.$cstNode?.text}`;
      expect(said.toLowerCase(), 'name' in item ? item.name : '').toMatch(/upper bound[, ].*rigid train/s);
    }
    const rule = run(
      engine(`layout: single\nredline: 7000 rpm
        intake { lobe.lift: 0.5 in, valve.mass: 115 g, retainer.mass: 28 g, lock.mass: 6 g, nose-bend: 20 mm/rad^2
          spring[outer] { rate: 330 lbf/in, free-height: 2.22 in, installed: 1.9 in, mass: 90 g } }`),
    )
      .build('row')
      .check('intake.rigid-train-speed');
    expect(rule.state).toBe('out-of-limits');
    expect(rule.because).toMatch(/upper bound, rigid train/);
  });
});
