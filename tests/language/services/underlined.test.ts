/** What a finding underlines: the entry of the cell that is worst, its neighbours beside; never a whole list where one entry is meant. */
import { describe, expect, test } from 'vitest';
import { diagnosticsOf } from '../../../language/src/services/diagnostics.ts';
import { hoverAt } from '../../../language/src/services/hover/hover.ts';
import { offersAt } from '../../../language/src/services/code-actions/code-actions.ts';
import { samples, workspaceOf } from './open.ts';

const reader = {
  client: { textDocument: { publishDiagnostics: { relatedInformation: true } } },
  pages: '',
  spelled: (uri: string) => uri,
};

interface Range {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

function textAt(text: string, { start, end }: Range): string {
  const lines = text.split('\n');
  return start.line === end.line ? lines[start.line]!.slice(start.character, end.character) : '(several lines)';
}

function underlinedIn(
  name: string,
  text: string,
): { code: string; words: string; beside: string[]; message: string }[] {
  const uri = `file:///${name}`;
  const workspace = workspaceOf(new Map([...samples, [name, text]]));
  for (const outcome of workspace.result(uri).outcomes) void outcome.checks;
  return diagnosticsOf(workspace, uri, reader).map(({ code, range, message, relatedInformation = [] }) => ({
    code: String(code),
    words: textAt(text, range),
    beside: relatedInformation
      .filter(({ location }) => location.uri === uri)
      .map(({ location, message: said }) => `${textAt(text, location.range)}: ${said as string}`),
    message: typeof message === 'string' ? message : message.value,
  }));
}

const plates = `component Plate {
  width: Length per hole as 0.000 in
  grid: Length per hole per side as 0.000 in
  derive taper: Length per hole as 0.000 in = spread(grid over side)
  derive uneven: Length as 0.000 in = spread(width over hole)
  limit: Length limits = 1.000..1.010 in
  wide: Length = 1 in
  rule in-limits: warning { expect width within limit, because "it must fit", adjust width }
  rule no-taper: warning { expect taper <= 0.001 in, because "it must seal", adjust grid }
  rule alike: warning { expect uneven <= 0.1 in, because "they are a set", adjust width }
}
axis hole = 1..4
axis side = left | right
extend Engine { plate: Plate }
`;
const bench = (inside: string): string => `use prelude 1\n${plates}build b {\n${inside}\n}\n`;
const wide = (figures: string): string => bench(`  plate.width: ${figures} in`);

describe('the entry of a list', () => {
  test.each([
    ['in order', '[1.005, 1.012, 1.005, 1.005]', '1.012', []],
    ['by key', '[1: 1.005, 3: 1.020, others: 1.001]', '1.020', []],
    ['the others', '[1: 1.005, others: 1.020]', '1.020', []],
    [
      'the worst of several',
      '[1.012, 1.030, 0.999, 1.005]',
      '1.030',
      ['1.012: hole 1: 1.012 in', '0.999: hole 3: 0.999 in'],
    ],
    ['one figure for all', '1.020', '1.020 in', []],
  ])('%s', (_, figures, words, beside) => {
    const [found, ...more] = underlinedIn('bench.thou', wide(figures)).filter(({ code }) => code === 'plate.in-limits');
    expect(found?.words).toBe(words);
    expect(more).toEqual([]);
    expect(found!.beside.filter((text) => text.includes('hole'))).toEqual(beside);
  });

  test('a row, where the whole of it is to blame', () => {
    const found = underlinedIn(
      'bench.thou',
      bench(
        '  measured "as it came" { plate.grid: [[1.000, 1.000], [1.000, 1.004], [1.000, 1.000], [1.000, 1.000]] in }',
      ),
    );
    expect(found.find(({ code }) => code === 'plate.no-taper')?.words).toBe('[1.000, 1.004]');
  });

  test('the list, where no entry can be named', () => {
    const found = underlinedIn('bench.thou', wide('[1.005, 1.005, 1.005, 1.205]'));
    expect(found.find(({ code }) => code === 'plate.alike')?.words).toBe('[1.005, 1.005, 1.005, 1.205] in');
  });
});

test('a figure that only picks the limit is not the one to blame', () => {
  const found = underlinedIn('tarn-427.thou', samples.get('tarn-427.thou')!);
  const own = found.find(({ code, message }) => code === 'main-oil-clearance' && !message.startsWith('In '));
  expect(own).toMatchObject({ words: '2.4500' });
  for (const { code, words } of found.filter((one) => one.code.endsWith('coil-bind')))
    expect(words, code).not.toMatch(/^from/);
});

describe('of several figures that a finding rests on', () => {
  const pins = `component Pair {
  hole: Length per place as 0.000 in
  pin: Length per place as 0.000 in
  hung: Length per place as 0.000 in
  derive gap: Length per place as 0.000 in = hole - pin
  derive apart: Length as 0.000 in = spread(hole - pin over place)
  derive hung-off: Length as 0.000 in = max(abs(hung - pin) over place)
  large-ones: Flag = max(hole over place) > 1 in
  gap-limits: Length limits = [yes: 0.001..0.003 in, no: 0.001..0.002 in] by large-ones
  rule fits: warning { expect gap within gap-limits, because "it must turn", adjust hole or pin }
  rule all-alike: warning { expect apart <= 0.005 in, because "they are a set", adjust even hole or even pin }
  rule hung-right: warning { expect hung-off <= 0.010 in, because "it is set by them", adjust hung }
}
axis place = 1..4
extend Engine { pair: Pair }
`;
  const pair = (holes: string, pinned: string, more = ''): { code: string; words: string }[] =>
    underlinedIn(
      'pair.thou',
      `use prelude 1\n${pins}build b {
  pair { hole: 1.000..1.001 in, pin: 0.998..0.999 in }
  measured "Both" on 2026-03-01 { pair { hole: ${holes} in, pin: ${pinned} in${more} } }
}\n`,
    );
  const wordsOf = (found: { code: string; words: string }[], code: string): string | undefined =>
    found.find((one) => one.code === code)?.words;

  const holes = '[1.0005, 1.0004, 1.0006, 1.0005]';
  const held = '[0.9985, 0.9984, 0.9986, 0.9985]';
  test('the one that is off its size, in the cell that is out, also where the limits hang on all of them', () => {
    expect(wordsOf(pair(holes, '[0.9985, 0.9895, 0.9986, 0.9985]'), 'pair.fits')).toBe('0.9895');
    expect(wordsOf(pair('[1.0005, 1.0004, 1.0060, 1.0005]', held), 'pair.fits')).toBe('1.0060');
  });
  test('in a set that is to be alike, the one out of line', () => {
    expect(wordsOf(pair(holes, '[0.9985, 0.9885, 0.9986, 0.9983]'), 'pair.all-alike')).toBe('0.9885');
    expect(wordsOf(pair('[1.0005, 1.0004, 1.0006, 1.0205]', held), 'pair.all-alike')).toBe('1.0205');
  });
  test('where only one may be turned, that one', () => {
    expect(wordsOf(pair(holes, held, ', hung: [0.9985, 0.9984, 0.9986, 0.9785] in'), 'pair.hung-right')).toMatch(
      /^\[.*0.9785\]/,
    );
  });
});

test('no finding of any sample underlines the name of a figure', () => {
  for (const [name, text] of samples)
    if (name.endsWith('.thou'))
      for (const { code, words } of underlinedIn(name, text).filter((one) => /\d/.test(one.message)))
        if (code !== 'missing') expect(words, `${name} ${code}`).not.toMatch(/^[\w.-]+(\[[^\]]*\])?:/);
});

test('fixes are offered at the whole statement, not only at the entry', async () => {
  const text = wide('[1.005, 1.012, 1.005, 1.005]');
  const workspace = workspaceOf({ 'bench.thou': text });
  const at = text.indexOf('plate.width');
  const offers = await offersAt(workspace, 'file:///bench.thou', at, at, () => Promise.resolve());
  expect(offers.some(({ code }) => code === 'plate.in-limits')).toBe(true);
});

test('in a list, the hover tells the cell: its value, where it comes from, its limits', () => {
  const text = wide('[1.005, 1.012, 1.005, 1.005]');
  const workspace = workspaceOf({ 'bench.thou': text });
  const found = hoverAt(workspace, 'file:///bench.thou', text.indexOf('1.012'), false);
  const { value } = found!.contents as { value: string };
  expect(value).toMatch(/^plate\.width\[2\] = 1\.012 in/);
  expect(value).toContain('Limits: 1.000..1.010 in');
  expect(value).toContain('out of limits');
});
