/** What an edit of a part reaches: the declarations only where they ask which sizes are on offer. */
import { expect, test } from 'vitest';
import { library } from '../../reference/library.ts';
import { Project } from '../../../language/src/semantics/project.ts';
import { diskOf } from '../services/open.ts';

const job = `use prelude 1
use "shelf.thou"
build jig {
  layout: single
  head-gasket: G-1
}
`;
const shelf = `use prelude 1
part G-1: Gasket { thickness: 1.0 mm }
part P-1: Pushrod { length: 8.200 in }
practice "Ours" { head: H-1 }
part H-1: Head { chamber: 60 cc }
`;

function looked() {
  const files = new Map([
    ['file:///job.thou', job],
    ['file:///shelf.thou', shelf],
  ]);
  const project = new Project(diskOf(files), library);
  const look = () => project.check('file:///job.thou');
  const figure = (path: string): number => {
    const [outcome] = look().outcomes;
    return outcome!.tensorOf(outcome!.slots.find(({ slot }) => slot.path === path)!.slot.id)!.data[0]!;
  };
  const edit = (from: string, to: string): void => {
    files.set('file:///shelf.thou', files.get('file:///shelf.thou')!.replace(from, to));
  };
  return { look, figure, edit };
}

test('a part of which no size is asked for leaves the declarations as they are, and its figure is the new one', () => {
  const { look, figure, edit } = looked();
  const { schema } = look();
  expect(figure('head-gasket.thickness')).toBeCloseTo(0.001, 12);
  edit('1.0 mm', '1.2 mm');
  expect(figure('head-gasket.thickness')).toBeCloseTo(0.0012, 12);
  expect(look().schema).toBe(schema);
});

test('a part whose sizes are on offer shapes them anew; so does one that is added or taken away', () => {
  const { look, edit } = looked();
  const { schema } = look();
  edit('8.200 in', '8.250 in');
  const later = look().schema;
  expect(later).not.toBe(schema);
  edit('part P-1', 'part P-2: Pushrod { length: 8.300 in }\npart P-1');
  expect(look().schema).not.toBe(later);
});

test('a part that practice puts in is followed', () => {
  const { figure, edit } = looked();
  expect(figure('head.chamber')).toBeCloseTo(60e-6, 12);
  edit('60 cc', '64 cc');
  expect(figure('head.chamber')).toBeCloseTo(64e-6, 12);
});

test('another figure of practice leaves all that is declared as it is', () => {
  const { look, figure, edit } = looked();
  edit('practice "Ours" {', 'practice "Ours" { redline: 6000 rpm');
  const { schema } = look();
  expect(figure('redline')).toBeCloseTo(200 * Math.PI, 9);
  edit('6000 rpm', '7200 rpm');
  expect(figure('redline')).toBeCloseTo(240 * Math.PI, 9);
  expect(look().schema).toBe(schema);
  edit('redline: 7200 rpm', 'no-such: 1');
  const { problems } = look();
  expect(problems).toEqual([]); // it is said where it stands
});
