/** What each construct of the language is read as: figures, units, operators, lines, bodies. */
import { describe, expect, it } from 'vitest';
import { kinds, reservedWords } from '../../../language/src/grammar/tokens.ts';
import { reservedWords as agreed } from '@thou/shared/words';
import { parseFile } from '../../../language/src/grammar/file.ts';
import { fixtures } from './fixtures.ts';
import { entryOf, formulaOf, membersOf, shape, valueOf } from './shape.ts';

describe('whole files', () => {
  it.each(fixtures)('$name is read without a problem, every entry of it', ({ text }) => {
    const file = parseFile('test.thou', text);
    expect(file.problems).toEqual([]);
    for (const { parsed } of file.blocks) expect(() => shape(parsed.item)).not.toThrow();
    expect(file.blocks.map(({ parsed }) => parsed.text).join('')).toBe(text);
  });

  it('keeps the same words for itself as the list that everyone reads', () => {
    expect([...reservedWords].sort()).toEqual([...agreed].sort());
    expect(kinds.has('measured')).toBe(true);
  });
});

describe('figures and units', () => {
  it.each([
    ['4.125 in', '4.125 in'],
    ['.039 in', '.039 in'],
    ['7/16 in', '7/16 in'],
    ['1 7/16 in', '1 7/16 in'],
    ['1e-6 kg', '1e-6 kg'],
    ['350 lbf/in', '350 lbf/in'],
    ['2 in^3', '2 in^3'],
    ['12.3 um/m/K', '12.3 um/m/K'],
    ['180 W/(m*K)', '180 W/(m*K)'],
    ['40 lbf*in', '40 lbf*in'],
    ['40 ft-lbf', '40 ft-lbf'],
    ['2 %', '2 %'],
    ['2%', '2%'.replace('%', ' %')],
    ['90°', '90 °'],
    ['20 °C', '20 °C'],
    ['8 µm', '8 µm'],
    ['8 in²', '8 in²'],
    ['8 cm³', '8 cm³'],
    ['8 g·mm', '8 g·mm'],
    ['11e-6 1/K', '11e-6 1/K'],
    ['428 ± 0.5 g', '(428 ± 0.5 g)'],
    ['428 +- 0.5 g', '(428 +- 0.5 g)'],
    ['428 g ± 2 %', '(428 g ± 2 %)'],
    ['4.1205 in +0.0005/-0', '4.1205 in +0.0005/-0'],
    ['4.1205 +0.0005/-0 in', '4.1205 +0.0005/-0 in'],
    ['2.0990..2.1000 in', '(2.0990 .. 2.1000 in)'],
    ['1/2..3/4 in', '(1/2 .. 3/4 in)'],
    ['1.0 mm..2.0 mm', '(1.0 mm .. 2.0 mm)'],
    ['>= 0.080 in', '(>= 0.080 in)'],
    ['<= 0.0005 in', '(<= 0.0005 in)'],
    ['2026-03-14', 'day 2026-03-14'],
    ['"2618/B-30"', '"2618/B-30"'],
    ['none', 'none'],
    ['[1: 66.1, 3: 65.8, others: 66.0] cc', '[1: 66.1, 3: 65.8, others: 66.0] cc'],
    ['[[1, 2], [_, 3]] in', '[[1, 2], [_, 3]] in'],
    ['[0.1: 68, 0.2: 131,] in -> cfm', '[0.1: 68, 0.2: 131] in -> cfm'],
    ['[street: 0.0040, others: 0.0045] by duty', '[street: 0.0040, others: 0.0045] by duty'],
    ['from "bores.csv"', 'from "bores.csv"'],
    ['repeated [66.1, 66.0] cc', 'repeated [66.1, 66.0] cc'],
    ['was - 0.004 in', '(was - 0.004 in)'],
    ['1.20..3.50 mm step 0.05 mm', '(1.20 .. 3.50 mm) step 0.05 mm'],
  ])('%s', (written, read) => expect(valueOf(written)).toBe(read));

  it.each([
    ['350 lbf / in', '(350 lbf / in)'],
    ['pi / 4 * b ^ 2', '((pi / 4) * (b ^ 2))'],
    ['a / 7/16', '((a / 7) / 16)'],
    ['a * 7/16', '((a * 7) / 16)'],
    ['a ^ 1/2', '((a ^ 1) / 2)'],
    ['2/3 ^ 2', '(2 / (3 ^ 2))'],
    ['5 + 3 / -2', '(5 + (3 / (- 2)))'],
    ['8 per', null],
    ['x within 1 in..2 in', '(x within (1 in .. 2 in))'],
    ['if a then 8 otherwise b else 2 rev', '(if a then (8 otherwise b) else 2 rev)'],
  ])('formula %s', (written, read) => {
    if (read === null) expect(() => formulaOf(written)).toThrow();
    else expect(formulaOf(written)).toBe(read);
  });

  it('reads no unit where a name follows on the same line, nor on the next line', () => {
    expect(membersOf('build b { n: 8 rod.shell: 1 in, m: 8 HB-6125: 2, k: 8 in: 3\n n: 8\n rod: 5 }')).toEqual([
      'n: 8',
      'rod.shell: 1 in',
      'm: 8',
      'HB-6125: 2',
      'k: 8',
      'in: 3',
      'n: 8',
      'rod: 5',
    ]);
    expect(membersOf('build b { n: 8 rod[3].bolt: 1 in, m: 8 block { a: 1 } }')).toEqual([
      'n: 8',
      'rod[3].bolt: 1 in',
      'm: 8',
      'block {a: 1}',
    ]);
  });

  it('keeps a unit before the body of a block with a temperature', () => {
    expect(membersOf('build b { measured "x" at 20 degC { a: 1 in } }')).toEqual(['measured x | at 20 degC {a: 1 in}']);
    expect(membersOf('build b { measured at 20 degC on 2026-01-02 { a: 7 at 21 degC } }')).toEqual([
      'measured | at 20 degC, on 2026-01-02 {a: 7 | at 21 degC}',
    ]);
  });
});

describe('operators', () => {
  it.each([
    ['-2 ^ 2', '(- (2 ^ 2))'],
    ['-a * b', '((- a) * b)'],
    ['2 ^ -1', '(2 ^ (- 1))'],
    ['2 ^ 3 ^ 2', '(2 ^ (3 ^ 2))'],
    ['a - b - c', '((a - b) - c)'],
    ['a - b * c', '(a - (b * c))'],
    ['a / b / c', '((a / b) / c)'],
    ['a..b - 1', '(a .. (b - 1))'],
    ['a == 1 and b != 2 or not c', '(((a == 1) and (b != 2)) or (not c))'],
    ['bore - stroke', '(bore - stroke)'],
    ['bore-stroke', 'bore-stroke'],
    ['(a + b)[firing[1]]', '{(a + b)}[firing[1]]'],
    ['max(abs(x[level: top]) over level, place)', 'max(abs(x[level: top]) over level, place)'],
    ['sum(x over cylinder where x > 0 in by layout.pin)', 'sum(x over cylinder where (x > 0 in) by layout.pin)'],
    ['assign(c over row to p, q where ok of stock over s)', 'assign(c over row to p, q where ok of stock over s)'],
    ['nearest-sum(s over size, t, 3)', 'nearest-sum(s over size, t, 3)'],
    ['ordered(a.b) - before(a.b) + measured(a)', '((ordered(a.b) - before(a.b)) + measured(a))'],
    ['intake.flow(0.3 in)', 'intake.flow(0.3 in)'],
    ['unknown("why")', 'unknown("why")'],
    [
      'solve x: Length/Time^2 in 0 in..2 in where f(x) = g',
      'solve x: (Length / (Time ^ 2)) in (0 in .. 2 in) where f(x) = g',
    ],
    [
      'solve x: Length in 0 in..2 in, y: Angle in a..b where f = g, h = k',
      'solve x: Length in (0 in .. 2 in), y: Angle in (a .. b) where f, h = g, k',
    ],
  ])('%s', (written, read) => expect(formulaOf(written)).toBe(read));
});

describe('lines and commas', () => {
  it('ends a member at a new line, a comma and before the next head', () => {
    const read = ['a: 1 in', 'b: 2 in', 'c {d: 3}', 'e: x'];
    for (const text of [
      'a: 1 in\nb: 2 in\nc { d: 3 }\ne: x',
      'a: 1 in, b: 2 in, c { d: 3 }, e: x',
      'a: 1 in b: 2 in c { d: 3 } e: x',
    ]) {
      for (const lines of [text, text.replaceAll('\n', '\r\n'), text.replaceAll('\n', '\r')])
        expect(membersOf(`build b { ${lines} }`)).toEqual(read);
    }
  });

  it('goes on over a new line behind an operator, before one, and inside brackets', () => {
    expect(formulaOf('a +\n  b\n  - c\n  * d')).toBe('((a + b) - (c * d))');
    expect(valueOf('[1,\n 2\n , 3] in')).toBe('[1, 2, 3] in');
  });

  it('keeps commas that belong to a list outside brackets', () => {
    expect(
      membersOf('component C { a: L changed-by p, q.r, b: L against X, Y per z, c: L\n d: L changed-by p,\n q }'),
    ).toEqual(['a: L changed-by p, q.r', 'b: L against X, Y per z', 'c: L', 'd: L changed-by p, q']);
    expect(
      membersOf('component C { derive a: L = solve x: L in a..b, y: L in c..d where f = g, h = k, e: L }'),
    ).toEqual(['derive a: L = solve x: L in (a .. b), y: L in (c .. d) where f, h = g, k', 'e: L']);
  });

  it('reads the features of a property in any order', () => {
    expect(
      membersOf(
        'component C {\n a: L per c as 0.0 in / 0 mm grows changed-by m measured by mean(r over l) = 0 in\n b: R as 0.00 falls\n}',
      ),
    ).toEqual([
      'a: L per c as 0.0 in / 0 mm grows changed-by m measured by mean(r over l) = 0 in',
      'b: R as 0.00 falls',
    ]);
    expect(membersOf('component C {\n a: L\n measured by r\n}')).toEqual(['a: L measured by r']);
  });

  it('tells the clauses of a rule apart on one line and on several', () => {
    const read = ['when (d == c)', 'expect (x within l)', 'because why', 'adjust a or even b.c then d'];
    expect(
      membersOf('rule r: error { when d == c, expect x within l, because "why", adjust a or even b.c then d }'),
    ).toEqual(read);
    expect(
      membersOf(
        'rule r: error {\n when d == c\n expect x within l,\n because "why"\n adjust a or even b.c\n then d\n}',
      ),
    ).toEqual(read);
  });

  it('takes notes in any order', () => {
    expect(membersOf('build b { a: 1 in by "A" at 21 degC with mic-3 on 2026-01-02 because "so" }')).toEqual([
      'a: 1 in | by A, at 21 degC, with mic-3, on 2026-01-02, because so',
    ]);
  });
});

describe('entries', () => {
  it.each([
    ['use "parts.thou"', 'use parts.thou'],
    ['use prelude 1', 'use prelude 1'],
    ['unit g*mm: Unbalance = 1e-6 kg*m', 'unit g*mm: Unbalance = 1e-6 kg*m'],
    ['unit flasher: Money', 'unit flasher: Money'],
    ['dimension Inertia = Mass * Length^2', 'dimension Inertia = (Mass * (Length ^ 2))'],
    ['axis level = top | middle | bottom', 'axis level = top | middle | bottom'],
    ['axis order = [1, 2, 4, 6]', 'axis order = [1, 2, 4, 6]'],
    ['axis piece is cylinder', 'axis piece is cylinder'],
    ['axis a = -c / 2..c / 2 - 1 deg step 1 deg', 'axis a = (((- c) / 2) .. ((c / 2) - 1 deg)) step 1 deg'],
    ['part "2618/B-30": Piston of FT-1115 { a: 1 in }', 'part 2618/B-30: Piston of FT-1115 {a: 1 in}'],
    ['part plain: Pin', 'part plain: Pin'],
    ['build "Nr. 4" { }', 'build Nr. 4 {}'],
    ['variant v of b { a: was + 2 deg }', 'variant v of b {a: (was + 2 deg)}'],
    ['practice "Shop" { Piston.wall: 1..2 in }', 'practice Shop {Piston.wall: (1 .. 2 in)}'],
    ['extend any { maker: Text, price: Money? }', 'extend any {maker: Text; price: Money?}'],
    [
      'component C { duty: a | b = a, t: Turbo?, s: Side { x: 1 } }',
      'component C {duty: a | b = a; t: Turbo?; s: Side {x: 1}}',
    ],
    [
      'component C { axis v = 1..n, w: Length limits = <= 1 in }',
      'component C {axis v = (1 .. n); w: Length limits = (<= 1 in)}',
    ],
    [
      'function f(a: L, b: L/T): L = a\n  where { c = b, d = 1 }',
      'function f(a: L, b: (L / T)): L = a where {c = b; d = 1}',
    ],
    [
      'derive a: L per c as 0.0 in =\n  b\n  where {\n    c = 1\n    d = 2\n  }',
      'derive a: L per c as 0.0 in = b where {c = 1; d = 2}',
    ],
  ])('%s', (written, read) => expect(shape(entryOf(written))).toBe(read));

  it('reads expect and accept with their reasons', () => {
    expect(
      membersOf('build b {\n expect a <= 1 in because "so"\n accept r[3] within >= 1 in\n  because "it is"\n}'),
    ).toEqual(['expect (a <= 1 in) because so', 'accept r[3] within (>= 1 in) because it is']);
  });
});
