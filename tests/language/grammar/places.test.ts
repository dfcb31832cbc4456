/** From a tree back to its text: ranges, words, documentation; lines and columns. */
import type { AstNode } from 'langium';
import { describe, expect, it } from 'vitest';
import { blockRootOf, docOf, parseFile, positions, rangeOf, sourceText } from '../../../language/src/grammar/file.ts';
import type { Build, Derive, Given } from '../../../language/src/grammar/generated/ast.ts';
import { entryOf } from './shape.ts';

const text = `/// Not this.

/// Hill-climb engine.
///   indented, with \`code\`
build b {
  /// Bore as honed.
  bore: 4.125 in // not this
  a: 1 in /// nor this
  c[1, x].d: -2 in + b * c - d
  //// nor this
  e: 1 in
}
`;

describe('places', () => {
  const build = parseFile('test.thou', text)
    .blocks.map(({ parsed }) => parsed.item)
    .find((item) => item?.$type === 'Build') as Build;
  const members = build.body.members as Given[];

  it('finds the documentation right above, without its marks', () => {
    expect(docOf(build)).toBe('Hill-climb engine.\n  indented, with `code`');
    expect(members.map(docOf)).toEqual(['Bore as honed.', undefined, undefined, undefined]);
  });

  it('finds it with Windows line ends too', () => {
    const item = entryOf('/// One.\r\n/// Two.\r\nbuild b {\r\n  /// Three.\r\n  a: 1 in\r\n}\r\n') as Build;
    expect(docOf(item)).toBe('One.\nTwo.');
    expect(docOf(item.body.members[0] as AstNode)).toBe('Three.');
  });

  it('gives ranges of nodes and of their fields', () => {
    const [bore, , c] = members as [Given, Given, Given];
    const block = blockRootOf(bore);
    const words = ({ start, end }: { start: number; end: number }): string => block.text.slice(start, end);
    expect(words(rangeOf({ node: build, property: 'name' }))).toBe('b');
    expect(words(rangeOf({ node: bore, property: 'path' }))).toBe('bore');
    expect(words(rangeOf({ node: bore, property: 'value' }))).toBe('4.125 in');
    expect(words(rangeOf({ node: c.path, property: 'steps', index: 1 }))).toBe('d');
    expect(sourceText(c)).toBe('c[1, x].d: -2 in + b * c - d');
    expect(block.item).toBe(build);
  });

  it('gives each part of a formula a range of its own', () => {
    const derive = entryOf('derive x: L = a + b * c - (d + e)') as Derive;
    const found: string[] = [];
    const visit = (node: AstNode & { left?: AstNode; right?: AstNode }): void => {
      if (node.left === undefined || node.right === undefined) return;
      found.push(sourceText(node));
      visit(node.left);
      visit(node.right);
    };
    visit(derive.value);
    expect(found).toEqual(['a + b * c - (d + e)', 'a + b * c', 'b * c']);
  });
});

describe('lines and columns', () => {
  it('counts UTF-16 units and all three line ends', () => {
    const places = positions('a😀b\r\nc\rd\n');
    expect([0, 3, 4, 6, 7, 8, 9, 10].map((offset) => places.at(offset))).toEqual([
      { line: 0, column: 0 },
      { line: 0, column: 3 },
      { line: 0, column: 4 },
      { line: 1, column: 0 },

      { line: 1, column: 1 },
      { line: 2, column: 0 },
      { line: 2, column: 1 },
      { line: 3, column: 0 },
    ]);
    expect(places.lineCount).toBe(4);
    expect(places.offset({ line: 2, column: 0 })).toBe(8);
    expect(places.offset({ line: 0, column: 99 })).toBe(4);
    expect(places.offset({ line: 9, column: 0 })).toBe(10);
    expect(places.at(-5)).toEqual({ line: 0, column: 0 });
  });
});
