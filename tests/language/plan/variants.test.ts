// design.md §5 and decisions.md: a variant is a copy; what it sets drops the base's layers; `was`; its own history runs after.
import { describe, expect, it } from 'vitest';
import { bin, list, n } from '../evaluate/build.ts';
import { cells, views, World } from './build.ts';

const world = () =>
  new World()
    .axis('row', 2)
    .property('width', { axes: ['row'] })
    .property('depth');

describe('variants', () => {
  it('copy what they do not set', () => {
    const made = world();
    const base = made.build().give('width', n(1)).give('depth', n(2)).measured().set('depth', n(2.1));
    const plan = made.build().of(base).give('width', n(5)).plan();
    expect(views(plan, 'depth')).toEqual({ specified: 2, ordered: 2, before: 2.1, measured: 2.1 });
    expect(cells(plan, 'width')).toEqual([5, 5]);
  });

  it("drop the base's machining and readings of what they set, in those cells", () => {
    const made = world();
    const base = made.build().give('width', n(1)).cut().set('width', n(1.5)).measured().set('width', n(1.6));
    const plan = made
      .build()
      .of(base)
      .give('width', n(5), { at: { row: 1 } })
      .plan();
    expect(views(plan, 'width', 0)).toEqual({ specified: 5, ordered: 5, before: 5, measured: 5 });
    expect(views(plan, 'width', 1)).toEqual({ specified: 1, ordered: 1.5, before: 1, measured: 1.6 });
  });

  it("take `was` as the base's value in the same view", () => {
    const made = world();
    const base = made.build().give('depth', n(2)).measured().set('depth', n(2.5));
    const plan = made
      .build()
      .of(base)
      .give('depth', bin(made.was('depth'), '-', n(1)))
      .plan();
    expect(views(plan, 'depth')).toEqual({ specified: 1, ordered: 1, before: 1.5, measured: 1.5 });
  });

  it('chain', () => {
    const made = world();
    const base = made.build().give('depth', n(2));
    const first = made
      .build()
      .of(base)
      .give('depth', bin(made.was('depth'), '*', n(10)));
    const second = made
      .build()
      .of(first)
      .give('depth', bin(made.was('depth'), '+', n(1)));
    expect(cells(second.plan(), 'depth')).toEqual([21]);
  });

  it("run their own history after the base's", () => {
    const made = world();
    const base = made.build().give('depth', n(2)).measured().set('depth', n(2.5));
    const plan = made
      .build()
      .of(base)
      .cut()
      .set('depth', bin(made.was('depth'), '-', n(1)))
      .plan();
    expect(views(plan, 'depth')).toEqual({ specified: 2, ordered: 1.5, before: 2.5, measured: 1.5 });
  });

  it('drop all below a mount whose part they replace, where they replace it', () => {
    const made = new World()
      .axis('row', 2)
      .mount('rod', { axes: ['row'] })
      .property('rod.length')
      .property('rod.mass');
    const base = made.build();
    const old = base.part('rod');
    base
      .give('rod.length', n(6), { layer: 'part', part: old })
      .give('rod.mass', n(500))
      .give('rod.mass', n(400), { layer: 'practice' });
    base.measured().set('rod.mass', list(0, [n(501), n(502)]));
    const variant = made.build().of(base).dropBelow('rod');
    const fresh = variant.part('rod', { row: 1 }, 'variant');
    variant.give('rod.length', n(7), { layer: 'part', part: fresh });
    const plan = variant.plan();
    expect(cells(plan, 'rod.length')).toEqual([7, 6]);
    expect(cells(plan, 'rod.mass')).toEqual([400, 502]);
  });
});
