/** Each kind of mistake in a text: its code, its words, its place, and the fix where there is one. */
import { describe, expect, it } from 'vitest';
import { parseFile, type TextProblem } from '../../../language/src/grammar/file.ts';
import { textProblems } from '../../../language/src/grammar/problem.ts';
import { membersOfEntry } from './shape.ts';

interface Case {
  /** The text; » and « enclose what the message stands at. */
  readonly text: string;
  readonly code: string;
  readonly says: string;
  /** The text after the fix. */
  readonly fixed?: string;
}

const inBuild = (line: string): string => `build b {\n  ${line}\n  z: 1\n}\n`;

const cases: Case[] = [
  {
    text: inBuild('a: »4-1/2« in'),
    code: 'syntax.mixed-number',
    says: 'joined by a blank: 4 1/2',
    fixed: inBuild('a: 4 1/2 in'),
  },
  {
    text: inBuild('a: »4,125« in'),
    code: 'syntax.comma-in-number',
    says: 'Read as 4.125',
    fixed: inBuild('a: 4.125 in'),
  },
  {
    text: inBuild('a: »7,000« rpm'),
    code: 'syntax.comma-in-number',
    says: 'Read as 7000',
    fixed: inBuild('a: 7000 rpm'),
  },
  {
    text: inBuild('a: »1,250,000« Pa'),
    code: 'syntax.comma-in-number',
    says: 'Read as 1250000',
    fixed: inBuild('a: 1250000 Pa'),
  },
  {
    text: inBuild('a: 4.125»"«'),
    code: 'syntax.inch-mark',
    says: 'inches are written as in 4.125 in',
    fixed: inBuild('a: 4.125 in'),
  },
  {
    text: inBuild('a: 4.125»in«'),
    code: 'syntax.missing-blank',
    says: 'a blank is missing between 4.125 and its unit in',
    fixed: inBuild('a: 4.125 in'),
  },
  {
    text: inBuild('a: 4 »in-1« in'),
    code: 'syntax.missing-blank',
    says: 'a blank on both sides',
    fixed: inBuild('a: 4 in - 1 in'),
  },
  { text: inBuild('a: »4.« in'), code: 'syntax.bare-point', says: 'ends with a figure', fixed: inBuild('a: 4 in') },
  {
    text: inBuild('a: 4.1 in »-0/+0.0005«'),
    code: 'syntax.margin-order',
    says: 'the upper margin goes first: +0.0005/-0',
    fixed: inBuild('a: 4.1 in +0.0005/-0'),
  },
  {
    text: inBuild('a: 45 »ft lb«, b: 1 in'),
    code: 'syntax.split-unit',
    says: 'a unit is one word: ft lb is written ft-lbf',
    fixed: inBuild('a: 45 ft-lbf, b: 1 in'),
  },
  {
    text: inBuild('a: 61 »N.m«'),
    code: 'syntax.split-unit',
    says: 'N.m is written N*m',
    fixed: inBuild('a: 61 N*m'),
  },
  {
    text: inBuild('a: 4.030 »+/-« 0.001 in'),
    code: 'syntax.plus-minus',
    says: 'written ± or +-',
    fixed: inBuild('a: 4.030 +- 0.001 in'),
  },
  {
    text: 'build b { measured "x" on »2026-02-30« { a: [1] in } }\n',
    code: 'syntax.no-such-day',
    says: 'no calendar has the day 2026-02-30',
  },
  { text: inBuild('a: 4.030 »to« 4.031 in'), code: 'syntax.not-understood', says: 'two points: 4.030..4.031 in' },
  { text: inBuild('a: »“pump”«'), code: 'syntax.unknown-character', says: 'write "pump"', fixed: inBuild('a: "pump"') },
  {
    text: inBuild('a: 4 in »−« 1 in'),
    code: 'syntax.unknown-character',
    says: 'write -',
    fixed: inBuild('a: 4 in - 1 in'),
  },
  {
    text: inBuild('expect a »≤« 1 in'),
    code: 'syntax.unknown-character',
    says: 'write <=',
    fixed: inBuild('expect a <= 1 in'),
  },
  { text: inBuild('a: 4»\u00a0«in'), code: 'syntax.unknown-character', says: 'U+00A0', fixed: inBuild('a: 4 in') },
  { text: inBuild('a: 4 in »§§«'), code: 'syntax.unknown-character', says: '§ means nothing here' },
  { text: inBuild('a: »"pump«'), code: 'syntax.unclosed-text', says: 'never closed', fixed: inBuild('a: "pump"') },
  {
    text: 'build b { a: 1 }\n»/*« build c { a: 1 }\n',
    code: 'syntax.unclosed-comment',
    says: 'this comment is never closed',
  },
  {
    text: 'build b »{«\n  a: 1 in\n',
    code: 'syntax.unclosed-brace',
    says: '} is missing',
    fixed: 'build b {\n  a: 1 in }\n',
  },
  {
    text: inBuild('a: »[«1, 2 in'),
    code: 'syntax.unclosed-bracket',
    says: '] is missing',
    fixed: inBuild('a: [1, 2 in]'),
  },
  {
    text: inBuild('a: 1, 2»]« in'),
    code: 'syntax.unclosed-bracket',
    says: 'a [ is missing',
    fixed: inBuild('a: [1, 2] in'),
  },
  {
    text: 'build b {\n  »c«\n    a: 1 in\n  }\n  d: 2\n}\n',
    code: 'syntax.missing-brace',
    says: 'a { is missing behind c',
    fixed: 'build b {\n  c {\n    a: 1 in\n  }\n  d: 2\n}\n',
  },
  {
    text: 'build b { a: 1 in }\n»}«\n',
    code: 'syntax.stray-closer',
    says: 'this } has nothing to close',
    fixed: 'build b { a: 1 in }\n\n',
  },
  {
    text: inBuild('a: (1 + 2»]«'),
    code: 'syntax.wrong-closer',
    says: 'closed by ), not by ]',
    fixed: inBuild('a: (1 + 2)'),
  },
  {
    text: 'build b { a: 1 }\n»biuld« c { a: 1 }\n',
    code: 'syntax.unknown-item',
    says: 'is build meant?',
    fixed: 'build b { a: 1 }\nbuild c { a: 1 }\n',
  },
  { text: '»bore«: 4.125 in\n', code: 'syntax.unknown-item', says: 'bore stands outside everything' },
  {
    text: 'build b { a: 1 } »build« c { a: 1 }\n',
    code: 'syntax.item-place',
    says: 'a line of its own',
    fixed: 'build b { a: 1 } \nbuild c { a: 1 }\n',
  },
  { text: inBuild('a»:«'), code: 'syntax.missing-value', says: 'a figure or a name is missing after :' },
  { text: inBuild('a: 4 in »+«'), code: 'syntax.missing-value', says: 'missing after +' },
  { text: inBuild('a: [1, »,« 2] in'), code: 'syntax.missing-value', says: 'missing after ,' },
  { text: inBuild('a: »*« 2'), code: 'syntax.missing-value', says: 'missing before *' },
  {
    text: inBuild('»expct« compression within 1..2'),
    code: 'syntax.missing-colon',
    says: 'or is the word expect meant?',
  },
  { text: inBuild('bore »4.125« in'), code: 'syntax.missing-colon', says: 'is missing after bore' },
  { text: 'build »b«\n', code: 'syntax.missing-sign', says: '{ is missing after b' },
  { text: 'derive x »=« 4 in\n', code: 'syntax.missing-colon', says: 'missing after x' },
  { text: 'derive x: »=« 4 in\n', code: 'syntax.missing-type', says: 'what kind of value' },
  { text: 'axis »level«\n', code: 'syntax.missing-sign', says: '= with the places on the axis' },
  {
    text: 'part: Piston { a: 1 }\n'.replace(':', '»:«'),
    code: 'syntax.missing-name',
    says: 'a name is missing after part',
  },
  { text: 'part »build«: Piston { a: 1 }\n', code: 'syntax.reserved-word', says: 'build is a word of the language' },
  { text: 'variant v »b« { a: 1 }\n', code: 'syntax.missing-word', says: 'the word of is missing after v' },
  {
    text: 'build b {\n  »fit«: warning {\n    when a > 1\n    adjust c\n  }\n}\n',
    code: 'syntax.missing-word',
    says: 'the word rule is missing before',
  },
  {
    text: inBuild('expect a > 1 because »why«'),
    code: 'syntax.missing-text',
    says: 'a text in quotes is missing after because',
  },
  {
    text: inBuild('measured "x" on »monday« { a: 1 }'),
    code: 'syntax.missing-date',
    says: 'a date, such as 2026-03-14',
  },
  { text: inBuild('a: 4 in »5«'), code: 'syntax.not-understood', says: '5 makes no sense after in' },
  {
    text: `build b { a: ${'('.repeat(62)}»(«${'('.repeat(5000)}1 }\n`.replace('»(«', '(»(«'),
    code: 'syntax.too-deep',
    says: 'more than 64 deep',
  },
  {
    text: `derive x: L = 1${' + 1'.repeat(999)} »+«${' 1 +'.repeat(4000)} 1\n`,
    code: 'syntax.too-long',
    says: 'more than 1000 terms',
  },
  {
    text: 'build b {\n  a: 1 in\n»<<<<<<< ours«\n  c: 2 in\n=======\n  c: 3 in }\n>>>>>>> theirs\n  d: 4 in\n}\n',
    code: 'syntax.merge-conflict',
    says: 'a merge was not finished',
  },
  { text: 'build b { a: »\0« }\n', code: 'syntax.not-a-text', says: 'NUL byte' },
  { text: '»«' + 'part p: P { a: 1 in }\n'.repeat(100_000), code: 'syntax.file-too-large', says: 'larger than 2 MB' },
];

function split(marked: string): { text: string; start: number; end: number } {
  const start = marked.indexOf('»');
  const end = marked.indexOf('«') - 1;
  return { text: marked.replace('»', '').replace('«', ''), start, end };
}

function applied(text: string, problem: TextProblem): string {
  const edits = [...(problem.fix?.edits ?? [])].sort((a, b) => b.start - a.start);
  return edits.reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
}

describe('one message for one mistake, at the mistake', () => {
  it.each(cases.map((one) => ({ ...one, title: `${one.code}: ${one.text.slice(0, 60).replace(/\s+/g, ' ')}` })))(
    '$title',
    ({ text: marked, code, says, fixed }) => {
      const { text, start, end } = split(marked);
      const { problems } = parseFile('test.thou', text);
      const [problem] = problems;
      expect(problems.map((one) => one.code)).toEqual([code]);
      if (problem === undefined) return;
      expect(problem.message).toContain(says);
      expect(JSON.stringify(text.slice(problem.start, problem.end))).toBe(JSON.stringify(text.slice(start, end)));
      if (fixed === undefined) return;
      expect(applied(text, problem)).toBe(fixed);
      expect(parseFile('test.thou', fixed).problems).toEqual([]);
    },
  );

  it('has an example of every code', () => {
    expect([...new Set(cases.map(({ code }) => code))].sort()).toEqual(Object.keys(textProblems).sort());
  });

  it('speaks no jargon', () => {
    for (const { text } of cases) {
      for (const { message } of parseFile('test.thou', split(text).text).problems) {
        expect(message).not.toMatch(
          /\b(AST|node|symbol|undefined|tokens?|expected|expecting|parser?|EOF|SEP|ID|NUMBER|STRING)\b/,
        );
      }
    }
  });
});

describe('the rest is read as if the mistake were not there', () => {
  const read = (text: string): string[] => {
    const file = parseFile('test.thou', text);
    expect(file.problems.length).toBe(1);
    const item = file.blocks[0]?.parsed.item;
    return item === undefined ? [] : membersOfEntry(item);
  };

  it('keeps a name whose value is not finished, and all other members', () => {
    expect(read('build b {\n a: 1 in\n c: 4 in +\n d: 2 in\n}')).toEqual([
      'a: 1 in',
      'c: unknown("this line is not finished")',
      'd: 2 in',
    ]);
    expect(read('component C {\n derive a: L = (b +\n derive c: L = d\n}')).toEqual([
      'derive a: L = unknown("this line is not finished")',
      'derive c: L = d',
    ]);
    expect(read('rule r: error {\n when a >\n expect b\n}')).toEqual([
      'when unknown("this line is not finished")',
      'expect b',
    ]);
  });

  it('leaves out what has no name or no head', () => {
    expect(read('build b {\n a: 1 in\n : 4 in\n d: 2 in\n}')).toEqual(['a: 1 in', 'd: 2 in']);
    expect(read('build b {\n a: 1 in\n {\n c: 4 in\n }\n d: 2 in\n}')).toEqual(['a: 1 in', 'd: 2 in']);
  });

  it('reads slips as they are meant', () => {
    expect(read('build b { a: 4-1/2 in, c: 2 }')).toEqual(['a: 4 1/2 in', 'c: 2']);
    expect(read('build b { a: 7,000 rpm, c: 2 }')).toEqual(['a: 7000 rpm', 'c: 2']);
    expect(read('build b { a: 4.125", c: 2 }')).toEqual(['a: 4.125 in', 'c: 2']);
    expect(read('build b { a: 4 in -0/+0.0005, c: 2 }')).toEqual(['a: 4 in +0.0005/-0', 'c: 2']);
  });

  it('closes a brace where the indentation says so', () => {
    expect(read('build b {\n  c {\n    a: 1 in\n  d: 2 in\n  e { f: 1 }\n}\n')).toEqual([
      'c {a: 1 in}',
      'd: 2 in',
      'e {f: 1}',
    ]);
    expect(read('build b {\n  c { a: 1 in\n  d: 2 in\n}\n')).toEqual(['c {a: 1 in}', 'd: 2 in']);
  });

  it('lets an entry at the left edge close what is open above', () => {
    const file = parseFile('test.thou', 'build b {\n  c {\n    a: 1 in\n\nbuild d { e: 1 }\n');
    expect(file.problems.map(({ code }) => code)).toEqual(['syntax.unclosed-brace', 'syntax.unclosed-brace']);
    expect(file.blocks.map(({ parsed }) => parsed.item?.$type)).toEqual(['Build', 'Build']);
  });

  it('keeps both sides of a merge out and reads the rest', () => {
    expect(read('build b {\n a: 1\n<<<<<<< ours\n c: 2\n=======\n c: 3 }\n>>>>>>> theirs\n d: 4\n}\n')).toEqual([
      'a: 1',
      'd: 4',
    ]);
  });
});
