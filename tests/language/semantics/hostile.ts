/** Texts that nobody writes on purpose but a tool must live with: names of JavaScript's own, circles, very long chains. */
export interface Hostile {
  readonly name: string;
  readonly text: string;
  readonly files?: Readonly<Record<string, string>>;
  /** Codes that must be among those said. */
  readonly says: readonly string[];
}

const inherited = [
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  'valueOf',
  'prototype',
  'length',
  '__defineGetter__',
] as const;

/** Declarations begin at the start of a line. */
const dedent = (text: string): string => text.replace(/^ {4}/gm, '');

const many = (count: number, line: (i: number) => string): string =>
  Array.from({ length: count }, (_, i) => line(i)).join('\n');

const everywhere = (name: string): Hostile => ({
  name: `${name} as the name of everything`,
  text: dedent(`
    dimension ${name} = Length
    axis ${name} = ${name} | other
    component ${name}-box { ${name}: Length per ${name}, kind: ${name} | other = ${name} }
    extend Root { ${name}-box: ${name}-box, ${name}: Nut }
    function ${name}-of(${name}: Length): Length = ${name} + local where { local = ${name} }
    derive ${name}-sum: Length = sum(${name}-box.${name} over ${name}) + ${name}-of(plate.width)
    rule ${name}: warning { expect ${name}-sum > 0 mm, because "${name}", adjust plate.width }
    part ${name}: Nut { flats: 6 }
    practice "${name}" { plate.width-limits: 1..2 mm }
    build ${name} {
      plan.rows: 1
      plate.width: 3 mm
      ${name}: ${name}
      ${name}-box { ${name}: [${name}: 1, other: 2] mm, kind: ${name} }
      measured "${name}" on 2026-03-14 with ${name} by "${name}" { ${name}-box.${name}: from "${name}.csv" }
      accept ${name} within >= 1 mm because "${name}"
    }
    variant ${name}-2 of ${name} { plate.width: was + 1 mm }
    variant ${name}-3 of ${name}-4 { plate.width: was + 1 mm }
  `),
  files: { [`${name}.csv`]: `${name},other,${name}\n1,2,3\n` },
  says: ['given.instrument', 'name.no-such-base'],
});

const unknown = (name: string): Hostile => ({
  name: `${name} where nobody declared it`,
  text: dedent(`
    derive a: ${name} = plate.width
    derive b: Length = ${name}
    derive c: Length = plate.${name}
    derive d: Length = ${name}(plate.width)
    derive e: Length per ${name} = plate.width
    derive f: Length = plate.width[${name}: 1] + max(plate.bore over ${name})
    derive g: Length = [${name}: 1 mm, others: 2 mm] by grade
    derive h: Flag = grade == ${name}
    part p: ${name} { flats: 6 }
    part q: Nut of ${name}
    extend ${name} { a: Length }
    build b { ${name}: 3 mm, plate.${name}: 3 mm, grade: ${name}, cell.nut: ${name}, plate.bore[${name}]: 3 mm, plate.bore: from "${name}" }
    variant v of ${name} { share: 0.5 }
  `),
  says: [
    'name.no-such-type',
    'name.unknown',
    'name.not-inside',
    'name.no-such-function',
    'name.no-such-axis',
    'name.no-such-choice',
    'name.no-such-component',
    'name.no-such-part',
    'name.no-such-base',
    'csv.not-found',
  ],
});

/** A part that could stand in a file that is not there is not asked for. */
const unused = (name: string): Hostile => ({
  name: `${name} as a file`,
  text: `use "${name}"\nbuild b { cell.nut: ${name} }`,
  says: ['use.not-found'],
});

export const hostileTexts: readonly Hostile[] = [
  ...inherited.map(unused),
  ...inherited.map(everywhere),
  ...inherited.map(unknown),
  {
    name: 'a component in itself',
    text: 'component Box { size: Length, box: Box, other: Box }\nextend Root { box: Box }',
    says: ['declare.holds-itself'],
  },
  {
    name: 'components that all hold each other',
    text:
      many(12, (i) => `component C${i} { ${Array.from({ length: 12 }, (_, j) => `c${j}: C${j}`).join(', ')} }`) +
      '\nextend Root { c: C0 }',
    says: ['declare.holds-itself'],
  },
  {
    name: 'functions that all call each other',
    text:
      many(
        12,
        (i) => `function f${i}(a: Length): Length = ${Array.from({ length: 12 }, (_, j) => `f${j}(a)`).join(' + ')}`,
      ) + '\nderive a: Length = f0(plate.width)',
    says: ['declare.function-cycle'],
  },
  {
    name: 'functions that double',
    text:
      'function f0(a: Length): Length = a\n' +
      many(40, (i) => `function f${i + 1}(a: Length): Length = f${i}(a) + f${i}(a)`) +
      '\nderive a: Length = f40(plate.width)',
    says: ['call.too-many'],
  },
  {
    name: '3,000 functions in a chain',
    text:
      'function f0(a: Length): Length = a\n' +
      many(3_000, (i) => `function f${i + 1}(a: Length): Length = f${i}(a)`) +
      '\nderive a: Length = f3000(plate.width)',
    says: ['call.too-many'],
  },
  {
    name: '3,000 functions in a circle',
    text: many(3_000, (i) => `function f${i}(a: Length): Length = f${(i + 1) % 3_000}(a)`),
    says: ['declare.function-cycle'],
  },
  {
    name: 'components that double',
    text:
      'component B0 { size: Length }\n' +
      many(30, (i) => `component B${i + 1} { a: B${i}, b: B${i} }`) +
      '\nextend Root { b: B30 }',
    says: ['declare.too-many'],
  },
  {
    name: '1,000 components inside each other',
    text:
      'component B0 { size: Length }\n' +
      many(1_000, (i) => `component B${i + 1} { a: B${i} }`) +
      '\nextend Root { b: B1000 }',
    says: ['declare.too-many'],
  },
  {
    name: '2,000 components that each hold a large one',
    text:
      'component B0 { size: Length }\n' +
      many(12, (i) => `component B${i + 1} { a: B${i}, b: B${i} }`) +
      many(2_000, (i) => `\ncomponent H${i} { a: B12 }`),
    says: [],
  },
  {
    name: 'a whole with 2,000 large parts',
    text:
      'component B0 { size: Length }\n' +
      many(12, (i) => `component B${i + 1} { a: B${i}, b: B${i} }`) +
      `\nextend Root { ${Array.from({ length: 2_000 }, (_, i) => `h${i}: B12`).join(', ')} }`,
    says: ['declare.too-many'],
  },
  {
    name: 'a part of itself',
    text: 'part A: Nut of A { flats: 6 }\nbuild b { plan.rows: 1, cell.nut: A }',
    says: ['given.part-circle'],
  },
  {
    name: '1,000 parts each of the one before',
    text:
      'part P0: Nut { flats: 6 }\n' +
      many(1_000, (i) => `part P${i + 1}: Nut of P${i} { pitch: ${i} mm }`) +
      '\nbuild b { plan.rows: 1, cell.nut: P1000 }',
    says: [],
  },
  {
    name: '1,000 parts in a circle',
    text:
      many(1_000, (i) => `part P${i}: Nut of P${(i + 1) % 1_000} { pitch: ${i} mm }`) +
      '\nbuild b { plan.rows: 1, cell.nut: P0 }',
    says: ['given.part-circle'],
  },
  {
    name: 'files in a circle',
    text: 'use "b.thou"\nderive a: Length = plate.width',
    files: { 'b.thou': 'use "c.thou"', 'c.thou': 'use "main.thou"\nuse "b.thou"\nuse "c.thou"' },
    says: [],
  },
  {
    name: '500 files each using the next',
    text: 'use "f0.thou"\nderive a: Length = plate.width',
    files: Object.fromEntries(
      Array.from({ length: 500 }, (_, i) => [`f${i}.thou`, `use "f${i + 1}.thou"\nderive d${i}: Length = plate.width`]),
    ),
    says: [],
  },
  {
    name: 'axes whose sizes need each other',
    text: 'axis one = 1..count-two\naxis two = 1..count-one\nextend Root { of-one: Count per one, of-two: Count per two, count-one: Count = sum(of-one over one), count-two: Count = sum(of-two over two) }\nbuild b { share: 0.5 }',
    says: [],
  },
  {
    name: 'an axis whose size needs itself',
    text: 'axis one = 1..sum(of-one over one)\nextend Root { of-one: Count per one }\nbuild b { of-one: [1, 2] }',
    says: [],
  },
  { name: 'twins in a circle', text: many(500, (i) => `axis t${i} is t${(i + 1) % 500}`), says: ['axes.twin-circle'] },
  {
    name: 'variants in a circle',
    text: many(500, (i) => `variant v${i} of v${(i + 1) % 500} { share: 0.5 }`),
    says: ['name.base-circle'],
  },
  {
    name: '500 variants each of the one before',
    text: 'build v0 { share: 0.5 }\n' + many(500, (i) => `variant v${i + 1} of v${i} { share: 0.${i} }`),
    says: [],
  },
  {
    name: '5,000 derives each using the one before',
    text: 'derive d0: Length = plate.width\n' + many(5_000, (i) => `derive d${i + 1}: Length = d${i} + 1 mm`),
    says: [],
  },
  {
    name: '5,000 derives in a circle',
    text: many(5_000, (i) => `derive d${i}: Length = d${(i + 1) % 5_000} + 1 mm`),
    says: ['declare.cycle'],
  },
  {
    name: '2,000 locals each using the next',
    text: `derive a: Length = l0 where {\n${many(2_000, (i) => `l${i} = l${i + 1}`)}\nl2000 = plate.width }`,
    says: ['declare.where-long'],
  },
  {
    name: '250 locals each using the next',
    text: `derive a: Length = l0 where {\n${many(250, (i) => `l${i} = l${i + 1}`)}\nl250 = plate.width }`,
    says: [],
  },
  {
    name: '250 locals in a circle',
    text: `derive a: Length = l0 where {\n${many(250, (i) => `l${i} = l${(i + 1) % 250}`)} }`,
    says: ['declare.cycle'],
  },
  {
    name: 'a path of 1,000 steps',
    text: `derive a: Length = ${'plate.'.repeat(1_000)}width\nbuild b { ${'plate.'.repeat(1_000)}width: 3 mm }`,
    says: ['name.not-inside'],
  },
  {
    name: 'a name of 5,000 dashes',
    text: `derive a: Length = a${'-b'.repeat(5_000)}\nderive b: Length = plate.a${'-b'.repeat(5_000)}`,
    says: ['name.unknown', 'name.not-inside'],
  },
  {
    name: 'a list of 5,000 figures without units',
    text: `build b { plan.rows: 3, plate.bore: [${'1, '.repeat(5_000)}] }`,
    says: ['unit.missing'],
  },
  {
    name: '3,000 names that nobody knows',
    text: `build b {\n${many(3_000, (i) => `plate.nothing-like-it-${i}: 3 mm`)}\n}`,
    says: ['name.not-inside'],
  },
  {
    name: '3,000 unknown parts among 3,000',
    text:
      many(3_000, (i) => `part nut-${i}: Nut { flats: 6 }`) +
      `\nbuild b { plan.rows: 1\n${many(1_000, (i) => `cell.nut[${i}]: nutt-${i}`)}\n}`,
    says: ['name.no-such-part'],
  },
];
