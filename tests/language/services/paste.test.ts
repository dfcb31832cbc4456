/** Figures from a spreadsheet: the list that belongs to the figure at the cursor, or a reason why there is none. */
import { expect, test } from 'vitest';
import { pasted } from '../../../language/src/services/readings/paste.ts';
import { workspaceOf } from './open.ts';

const uri = 'file:///one.thou';
const workspace = workspaceOf({});

/** What is put there, seen in its line; `|…|` marks what is selected. */
function into(line: string, clipboard: string, more = ''): string {
  const before = `use prelude 1
build one {
  layout: inline-4
  block { bore: 80.0 mm, deck-height: 206.0 mm }
  crank.stroke: 70.0 mm
  ${more}
  measured on 2026-03-02 by "A. H." {
    `;
  const [head, second, third] = line.split('|') as [string, string, string?];
  const selected = third === undefined ? '' : second;
  const tail = third ?? second;
  const text = `${before}${head}${selected}${tail}\n  }\n}\n`;
  const start = before.length + head.length;
  workspace.open(uri, text);
  const told = pasted(workspace, uri, start, start + selected.length, clipboard);
  if (told === null) return 'as it is';
  return told.text === null ? told.problem! : `${head}${told.text}${tail} ← ${told.title}`;
}

const column = '80.01\n80.02\n80.00\n79.99\n';

test('a column, or a row, becomes the list of its axis, in the unit of the figure', () => {
  expect(into('block.bore: |', column)).toBe('block.bore: [80.01, 80.02, 80.00, 79.99] mm ← 4 figures along cylinder');
  expect(into('block.bore:|', '80.01\t80.02\t80.00\t79.99')).toMatch(
    /^block\.bore: \[80\.01, 80\.02, 80\.00, 79\.99\] mm/,
  );
});

test('what is selected is replaced, a unit and notes that are there stay, an empty list is filled', () => {
  expect(into('block.bore: |[1, 2]| mm with mic-3', column)).toMatch(
    /^block\.bore: \[80\.01, 80\.02, 80\.00, 79\.99\] mm with mic-3/,
  );
  expect(into('block.bore: |mm', column)).toMatch(/^block\.bore: \[80\.01, 80\.02, 80\.00, 79\.99\] mm /);
  expect(into('block.bore: [|] mm', column)).toMatch(/^block\.bore: \[80\.01, 80\.02, 80\.00, 79\.99\] mm/);
  expect(into('block { bore: | }', column)).toMatch(/^block \{ bore: \[80\.01, 80\.02, 80\.00, 79\.99\] mm \}/);
});

test('an empty cell is no reading', () => {
  expect(into('block.bore: |', '80.01\n\n80.00\n79.99')).toMatch(/\[80\.01, _, 80\.00, 79\.99\] mm ← 3 figures/);
});

test('as many cells as the axis has places, else it says how many are due', () => {
  expect(into('block.bore: |', '80.01\n80.02\n80.00')).toBe(
    '3 cells are on the clipboard, but one figure is due for each of 4 places along cylinder.',
  );
  expect(into('redline: |', column)).toBe('redline is one figure: a single cell is due for it.');
});

test('a decimal comma is read where every cell has one; a mixture is refused', () => {
  expect(into('block.bore: |', '80,01\n80,02\n80,00\n79,99')).toBe(
    'block.bore: [80.01, 80.02, 80.00, 79.99] mm ← 4 figures along cylinder, decimal comma',
  );
  expect(into('block.bore: |', '80,01\n80.02\n80,00\n79,99')).toMatch(/^Some cells have a decimal point and others/);
});

test('thousands: what can be read in two ways is told apart by the figure that is due, else refused', () => {
  expect(into('block.bore: |', '80.012\n80.021\n80.003\n79.994')).toMatch(/\[80\.012, .*decimal point$/);
  expect(into('block.bore: |', '80,012\n80,021\n80,003\n79,994')).toMatch(/\[80\.012, .*decimal comma$/);
  expect(into('piston.mass: |', '1,234\n1,238\n1,236\n1,235')).toMatch(
    /^The figures can be read in two ways, as 1234 or as 1\.234/,
  );
  expect(into('piston.mass: |', '438.215\n438.012\n438.618\n438.313')).toMatch(/\[438\.215, /);
});

test('a unit in the cells is taken, another than the one in the text is refused', () => {
  expect(into('block.bore: |', '3.150 in\n3.151 in\n3.150 in\n3.149 in')).toMatch(
    /\[3\.150, 3\.151, 3\.150, 3\.149\] in ←/,
  );
  expect(into('block.bore: | mm', '3.150 in\n3.151 in\n3.150 in\n3.149 in')).toMatch(
    /^The cells are in in, the text has mm/,
  );
  expect(into('block.bore: |', '3.150 in\n80.01 mm\n80.00 mm\n79.99 mm')).toMatch(/different units/);
});

test('figures that only make sense in the other unit are taken in that, and it is said', () => {
  expect(into('block.bore: |', '3.150\n3.151\n3.150\n3.149')).toMatch(
    /\[3\.150, .*\] in ← 4 figures along cylinder, in in/,
  );
});

test('figures that make sense in no unit are taken as they are, and it is said', () => {
  expect(into('block.bore: |', '0.1\n0.2\n0.1\n0.2')).toMatch(/\] mm ← 4 figures along cylinder; far from 80\.00/);
});

test('a block for two axes: a title, names of places, and the other way round', () => {
  const block = '0.30\t0.40\t0.25\n0.31\t0.41\t0.26\n0.32\t0.42\t0.27\n0.33\t0.43\t0.28';
  const list = 'ring.gap: [[0.30, 0.40, 0.25], [0.31, 0.41, 0.26], [0.32, 0.42, 0.27], [0.33, 0.43, 0.28]] mm';
  expect(into('ring.gap: |', block)).toBe(`${list} ← 12 figures along cylinder and ring place`);
  const turned = '0.30\t0.31\t0.32\t0.33\n0.40\t0.41\t0.42\t0.43\n0.25\t0.26\t0.27\t0.28';
  expect(into('ring.gap: |', turned)).toBe(
    `${list} ← 12 figures along cylinder and ring place, rows and columns changed over`,
  );
  const headed =
    'Cyl.\tOil\ttop\tsecond\n2\t0.26\t0.31\t0.41\n1\t0.25\t0.30\t0.40\n3\t0.27\t0.32\t0.42\n4\t0.28\t0.33\t0.43';
  expect(into('ring.gap: |', headed)).toContain(list);
  expect(into('ring.gap[top]: |', 'Top gap\n0.30\n0.31\n0.32\n0.33')).toMatch(
    /^ring\.gap\[top\]: \[0\.30, 0\.31, 0\.32, 0\.33\] mm/,
  );
  expect(into('ring.gap: |', '0.3\n0.3\n0.3\n0.3')).toMatch(
    /^4 cells are on the clipboard, but one figure is due for each of 4 places along cylinder and each of 3/,
  );
});

test('more than two axes go into a table', () => {
  expect(into('block.bore-reading: |', column)).toMatch(
    /^bore reading goes along cylinder, level and direction: put its figures into a table/,
  );
});

test('what is no figure is named', () => {
  expect(into('block.bore: |', '80.01\n80.02\n80.00\n#REF!')).toBe('"#REF!" is no figure.');
});

test('anything else is pasted as it is', () => {
  for (const clipboard of ['80.01', 'a word\nanother', 'build two {\n}\n', '', '\n\n', 'x: 1 mm\ny: 2 mm'])
    expect(into('block.bore: |', clipboard), clipboard).toBe('as it is');
  expect(into('// note |', column)).toBe('as it is');
  expect(into('|', column)).toBe('as it is');
  expect(into('nobody: |', column)).toBe('as it is');
  expect(into('block.bore: 80 mm |', column)).toBe('as it is');
  expect(into('layout: |', column)).toBe('as it is');
});
