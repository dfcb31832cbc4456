import { describe, expect, it } from 'vitest';
import { readArguments } from '../../../language/src/command-line/arguments.ts';
import { harmless, harmlessAll } from '../../../language/src/command-line/terminal.ts';

describe('texts of files on a terminal', () => {
  it('shows control characters instead of sending them (ECMA-48 escapes, CVE-2021-42574 directions)', () => {
    expect(harmless('a\u001b[31mb\u0007\u009bc\u202ed\re')).toBe('a\\u{1b}[31mb\\u{7}\\u{9b}c\\u{202e}d\\u{d}e');
    expect(harmless('0.0025 in³ ± 2 °C — µ')).toBe('0.0025 in³ ± 2 °C — µ');
    expect(harmless('a\tb\nc')).toBe('a b\nc');
  });

  it('reaches every text of a model', () => {
    expect(harmlessAll({ a: ['\u001b', { b: '\u0000' }], c: 1, d: null })).toEqual({
      a: ['\\u{1b}', { b: '\\u{0}' }],
      c: 1,
      d: null,
    });
  });
});

describe('arguments', () => {
  const options = [
    { name: 'format', takes: 'FORMAT', words: ['text', 'json'], text: '' },
    { name: 'strict', text: '' },
    { name: 'output', short: 'o', takes: 'FILE', text: '' },
  ];
  const read = (...typed: string[]) => readArguments(typed, options, 'check');

  it('reads switches, values and what stands free', () => {
    const args = read('a.thou', '--strict', '--format=json', '-o', 'x', '--', '--b');
    expect(args.given).toEqual(['a.thou', '--b']);
    expect([args.has('strict'), args.value('format'), args.value('output')]).toEqual([true, 'json', 'x']);
    expect(read().value('format')).toBeUndefined();
  });

  it.each([
    [['--strct'], '"thou check" has no option --strct; did you mean --strict?'],
    [['--format'], 'The option --format needs FORMAT behind it.'],
    [['--format', 'xml'], 'The option --format takes text or json, not "xml".'],
    [['--strict=yes'], 'The option --strict takes nothing behind it.'],
  ])('%j says what is wrong', (typed, message) => {
    expect(() => read(...typed)).toThrow(message);
  });
});
