/**
 * Written figures as they come out of the middle of the language: SI values, margins, lists, files, families, layers.
 * Check values: exact by definition (1 in = 25.4 mm, 1 lbf = 4.4482216152605 N, ISO 80000-3/-4) or by hand.
 */
import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../language/src/semantics/plan/outcome.ts';
import { projectOf } from './check.ts';

interface Seen {
  figures(path: string): number[];
  band(path: string): readonly [number[], number[]];
  readonly outcome: Outcome;
}

function built(text: string, files: Readonly<Record<string, string>> = {}): Seen {
  const project = projectOf(new Map([...Object.entries(files), ['main.thou', text]]));
  const { problems, outcomes } = project.check('main.thou');
  expect(problems.filter(({ code }) => code !== 'use.no-edition').map(({ message }) => message)).toEqual([]);
  const outcome = outcomes.at(-1)!;
  const valueOf = (path: string) => {
    const value = outcome.slots.find(({ slot }) => slot.path === path)!.views.measured;
    if (value.is !== 'numbers') throw new Error(`${path} is no figure`);
    return value;
  };
  return {
    outcome,
    figures: (path) => [...valueOf(path).tensor.data],
    band: (path) => {
      const { band } = valueOf(path);
      if (!band) throw new Error(`${path} has no margins`);
      return [[...band.low.data], [...band.high.data]];
    },
  };
}

const near = (figures: readonly number[]): unknown[] => figures.map((figure) => expect.closeTo(figure, 12) as unknown);

describe('written figures', () => {
  it('are kept in SI', () => {
    const { figures } = built(
      'build b { plate { width: 4 1/2 in, height: .039 in, force: 350 lbf, heat: 293.15 K }, heat: 20 degC, share: 2 % }',
    );
    expect(figures('plate.width')).toEqual(near([0.1143]));
    expect(figures('plate.height')).toEqual(near([0.0009906]));
    expect(figures('plate.force')).toEqual(near([350 * 4.4482216152605]));
    expect(figures('heat')).toEqual(near([293.15]));
    expect(figures('plate.heat')).toEqual(near([293.15]));
    expect(figures('share')).toEqual(near([0.02]));
  });

  it('have margins up and down, a share of themselves, or the two ends of a range with the middle between', () => {
    const seen = built(
      'build b { plate { width: 100 mm +2/-1, height: 50 mm ± 2 %, mass: 1..3 kg }, heat: 20 ± 2 degC }',
    );
    expect(seen.figures('plate.width')).toEqual(near([0.1]));
    expect(seen.band('plate.width')).toEqual([near([0.099]), near([0.102])]);
    expect(seen.band('plate.height')).toEqual([near([0.049]), near([0.051])]);
    expect(seen.figures('plate.mass')).toEqual(near([2]));
    expect(seen.band('plate.mass')).toEqual([near([1]), near([3])]);
    expect(seen.band('heat')).toEqual([near([291.15]), near([295.15])]);
  });

  it('of a list take its unit and go to their places', () => {
    const { figures } = built(
      'build b { plan.rows: 3, plate.bore: [3: 3, others: 1] mm, plate.deck: [[top: 1, others: 2], [1, 2, 3], [7, 8, 9 mm]] }',
    );
    expect(figures('plate.bore')).toEqual(near([0.001, 0.001, 0.003]));
    expect(figures('plate.deck')).toEqual(near([1, 2, 2, 1, 2, 3, 7, 8, 9].map((figure) => figure / 1000)));
  });

  it('of a choice and of a label are picked by name', () => {
    const { figures } = built(
      'build b { grade: odd }\nderive a: Length = [plain: 1, others: 3] mm by grade\nderive l: Length per level = [top: 1, others: 2] mm by level',
    );
    expect(figures('a')).toEqual(near([0.003]));
    expect(figures('l')).toEqual(near([0.001, 0.002, 0.002]));
  });

  it('from a file are read in the unit of their column', () => {
    const files = {
      'a.csv': 'level;row;deck [mm]\ntop;2;4,5\nbottom;1;,25\n',
      'b.csv': 'row,top [in],middle [in],bottom [mm]\n1,1,,3\n',
    };
    const seen = built(
      'build b { plan.rows: 2, plate.deck: 1 mm, measured on 2026-03-14 { plate.deck: from "a.csv" } }',
      files,
    );
    expect(seen.figures('plate.deck')).toEqual(near([0.001, 0.001, 0.00025, 0.0045, 0.001, 0.001]));
    const other = built(
      'build b { plan.rows: 1, plate.deck: 1 mm, measured on 2026-03-14 { plate.deck: from "b.csv" } }',
      files,
    );
    expect(other.figures('plate.deck')).toEqual(near([0.0254, 0.001, 0.003]));
  });

  it('of curves called as locals are read, in any order of the where', () => {
    const { figures } = built(
      'build b { plate { flow: [0: 0, 10: 100] mm -> L/min, width: 5 mm } }\nderive a: FlowRate = f(x) where { f = through(plate.flow, linear), x = y, y = plate.width }',
    );
    expect(figures('a')).toEqual(near([50 / 60_000]));
  });
});

describe('whose figure speaks', () => {
  it('a nearer practice, then the part, then the build', () => {
    const files = {
      'far.thou': 'practice "Far" { Gasket.thickness: 1 mm }',
      'near.thou': 'use "far.thou"\npractice "Near" { Gasket.thickness: 2 mm }',
    };
    expect(built('use "near.thou"\nbuild b { share: 0.5 }', files).figures('gasket.thickness')).toEqual(near([0.002]));
    expect(
      built('use "near.thou"\npractice "Own" { gasket.thickness: 3 mm }\nbuild b { share: 0.5 }', files).figures(
        'gasket.thickness',
      ),
    ).toEqual(near([0.003]));
    expect(
      built('use "near.thou"\npart G: Gasket { thickness: 4 mm }\nbuild b { gasket: G }', files).figures(
        'gasket.thickness',
      ),
    ).toEqual(near([0.004]));
    expect(
      built(
        'use "near.thou"\npart G: Gasket { thickness: 4 mm }\nbuild b { gasket: G { thickness: 5 mm } }',
        files,
      ).figures('gasket.thickness'),
    ).toEqual(near([0.005]));
  });

  it('a part goes before the one that it starts from, and keeps the parts of its own file', () => {
    const files = {
      'shelf.thou': 'part INNER: Nut { flats: 8, pitch: 1 mm }\npart OUTER: Cell { size: 3 mm, nut: INNER }',
    };
    const { figures } = built(
      'use "shelf.thou"\npart MINE: Cell of OUTER { size: 4 mm }\nbuild b { plan.rows: 2, cell: [1: MINE, others: OUTER] }',
      files,
    );
    expect(figures('cell.size')).toEqual(near([0.004, 0.003]));
    expect(figures('cell.nut.flats')).toEqual([8, 8]);
  });

  it('what is on offer counts every size of a family', () => {
    const { figures } = built(
      'part A: Nut { pitch: 0.8 mm }\npart B: Nut { pitch: 1.0..2.0 mm step 0.25 mm }\nbuild b { share: 0.5 }\nderive n: Count = count(offered(cell.nut.pitch) > 0 mm over offered)\nderive largest-of: Length = max(offered(cell.nut.pitch) over offered)',
      {},
    );
    expect(figures('n')).toEqual([6]);
    expect(figures('largest-of')).toEqual(near([0.002]));
  });
});

describe('one scope, looked at again', () => {
  it('hears of a practice file that is used from nearer than before', () => {
    const texts = new Map([
      ['a.thou', 'use "b.thou"\npractice "A" { gasket.thickness: 1 mm }'],
      ['b.thou', 'practice "B" { gasket.thickness: 2 mm }'],
      ['main.thou', 'use "a.thou"\nbuild b { share: 0.5 }'],
    ]);
    const project = projectOf(texts);
    const thickness = (): number => {
      const value = project.check('main.thou').outcomes[0]!.slots.find(({ slot }) => slot.path === 'gasket.thickness')!
        .views.measured;
      return value.is === 'numbers' ? value.tensor.data[0]! : Number.NaN;
    };
    expect(thickness()).toBeCloseTo(0.001, 12);
    texts.set('main.thou', 'use "b.thou"\nuse "a.thou"\nbuild b { share: 0.5 }');
    expect(project.check('main.thou').problems.map(({ code }) => code)).toContain('use.practice-clash');
    texts.set('main.thou', 'use "b.thou"\nbuild b { share: 0.5 }');
    expect(thickness()).toBeCloseTo(0.002, 12);
  });

  it('reads a practice anew whose readings come from a file that changed', () => {
    const texts = new Map([
      ['bores.csv', 'row,bore [mm]\n1,3\n'],
      ['main.thou', 'practice "Own" { plate.bore: from "bores.csv" }\nbuild b { plan.rows: 1 }'],
    ]);
    const project = projectOf(texts);
    const bore = (): number => {
      const value = project.check('main.thou').outcomes[0]!.slots.find(({ slot }) => slot.path === 'plate.bore')!.views
        .measured;
      return value.is === 'numbers' ? value.tensor.data[0]! : Number.NaN;
    };
    expect(bore()).toBeCloseTo(0.003, 12);
    texts.set('bores.csv', 'row,bore [mm]\n1,4\n');
    expect(bore()).toBeCloseTo(0.004, 12);
  });
});
