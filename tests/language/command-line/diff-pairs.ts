/** A text and what may happen to it, each with exactly what is to be told of it: worked out by hand, to the last digit shown. */

/** Figures and rules of its own, so that no chapter of the trade library has a say. */
export const base = `use prelude 1

extend Block { axis place = 1..3
  own-wall: Length, own-holes: Length per place, own-cover: Length }
derive own-sum: Length as 0.000 in = block.own-wall + block.own-cover
derive own-double: Length as 0.000 in = 2 * own-sum
rule own-rule: warning { expect own-sum within <= 0.300 in, because "it sticks out", adjust block.own-wall }
part B-1: Block { own-wall: 0.200 in }
part B-2: Block { own-wall: 0.250 in }

build jig {
  layout: single
  duty: street
  block: B-1
  block.own-holes: [0.1, 0.2, 0.3] in
  block.own-cover: 0.095 in
  expect own-double within <= 0.6 in
  machining "Order" on 2026-01-02 { block.own-wall: 0.190 in }
  measured "Read" on 2026-01-03 { block.own-wall: 0.191 in }
}

variant thicker of jig { block.own-cover: was + 0.01 in }
`;

/** What is told of a build, in short; where nothing is, nothing changed. */
export interface Told {
  readonly in?: string;
  readonly inputs?: readonly string[];
  readonly follows?: readonly string[];
  readonly checks?: readonly string[];
}

export const pairs: readonly (readonly [
  what: string,
  from: string,
  to: string,
  builds: Readonly<Record<string, Told>>,
])[] = [
  ['the same text', 'use prelude 1', 'use prelude 1', { jig: {}, thicker: {} }],
  [
    'comments and layout',
    '  layout: single\n',
    '  // as it came\n\n      layout:    single\n',
    { jig: {}, thicker: {} },
  ],
  ['another unit for the same size', '0.095 in', '2.413 mm', { jig: {}, thicker: {} }],
  [
    'one reading',
    '0.191 in }',
    '0.193 in }',
    {
      jig: {
        inputs: ['block.own-wall: 0.191 in → 0.193 in'],
        follows: ['own-sum: 0.286 in → 0.288 in', 'own-double: 0.572 in → 0.576 in'],
      },
      thicker: {
        inputs: ['block.own-wall: 0.191 in → 0.193 in'],
        follows: ['own-sum: 0.296 in → 0.298 in', 'own-double: 0.592 in → 0.596 in'],
      },
    },
  ],
  [
    'an order under a reading',
    '0.190 in }',
    '0.188 in }',
    {
      jig: { inputs: ['block.own-wall: 0.190 in → 0.188 in ordered'] },
      thicker: { inputs: ['block.own-wall: 0.190 in → 0.188 in ordered'] },
    },
  ],
  [
    'a reading taken away',
    '  measured "Read" on 2026-01-03 { block.own-wall: 0.191 in }\n',
    '',
    {
      jig: {
        inputs: ['block.own-wall: 0.191 in → 0.190 in'],
        follows: ['own-sum: 0.286 in → 0.285 in', 'own-double: 0.572 in → 0.570 in'],
      },
      thicker: {
        inputs: ['block.own-wall: 0.191 in → 0.190 in'],
        follows: ['own-sum: 0.296 in → 0.295 in', 'own-double: 0.592 in → 0.590 in'],
      },
    },
  ],
  [
    'a reading added',
    'on 2026-01-03 { block.own-wall: 0.191 in }',
    'on 2026-01-03 { block.own-wall: 0.191 in, block.own-cover: 0.120 in }',
    {
      jig: {
        inputs: ['block.own-cover: 0.095 in → 0.120 in'],
        follows: ['own-sum: 0.286 in → 0.311 in', 'own-double: 0.572 in → 0.622 in'],
        checks: [
          'own-rule: holds-on-paper → out-of-limits, worse',
          'expect own-double within <= 0.6 in: holds-on-paper → out-of-limits, worse',
        ],
      },
      thicker: {
        inputs: ['block.own-cover: 0.002667 m → 0.003302 m'],
        follows: ['own-sum: 0.296 in → 0.321 in', 'own-double: 0.592 in → 0.642 in'],
        checks: [
          'own-rule: holds-on-paper → out-of-limits, worse',
          'expect own-double within <= 0.6 in: holds-on-paper → out-of-limits, worse',
        ],
      },
    },
  ],
  [
    'a figure given for the first time',
    '  duty: street\n',
    '  duty: street\n  rod.length: 6 in\n',
    {
      jig: { inputs: ['rod[1].length: null → 6 in / 152.40 mm'] },
      thicker: { inputs: ['rod[1].length: null → 6 in / 152.40 mm'] },
    },
  ],
  [
    'a figure given no more',
    '  block.own-cover: 0.095 in\n',
    '',
    {
      jig: {
        inputs: ['block.own-cover: 0.095 in → null'],
        follows: ['own-sum: 0.286 in → —', 'own-double: 0.572 in → —'],
        checks: [
          'own-rule: holds-on-paper → cannot-tell, worse',
          'expect own-double within <= 0.6 in: holds-on-paper → cannot-tell, worse',
        ],
      },
      thicker: {
        inputs: ['block.own-cover: 0.002667 m → null'],
        follows: ['own-sum: 0.296 in → —', 'own-double: 0.592 in → —'],
        checks: [
          'own-rule: holds-on-paper → cannot-tell, worse',
          'expect own-double within <= 0.6 in: holds-on-paper → cannot-tell, worse',
        ],
      },
    },
  ],
  [
    'a tolerance',
    'own-cover: 0.095 in',
    'own-cover: 0.095 ± 0.010 in',
    { jig: { inputs: ['block.own-cover: 0.095 in → 0.095 ± 0.010 in'] }, thicker: {} },
  ],
  [
    'one cell of a list',
    '[0.1, 0.2, 0.3]',
    '[0.1, 0.25, 0.3]',
    {
      jig: { inputs: ['block.own-holes[2]: 0.2 in → 0.25 in'] },
      thicker: { inputs: ['block.own-holes[2]: 0.2 in → 0.25 in'] },
    },
  ],
  [
    'all cells alike',
    '[0.1, 0.2, 0.3] in',
    '[1: 0.4, others: 0.4] in',
    {
      jig: {
        inputs: [
          'block.own-holes[1]: 0.1 in → 0.4 in',
          'block.own-holes[2]: 0.2 in → 0.4 in',
          'block.own-holes[3]: 0.3 in → 0.4 in',
        ],
      },
      thicker: {
        inputs: [
          'block.own-holes[1]: 0.1 in → 0.4 in',
          'block.own-holes[2]: 0.2 in → 0.4 in',
          'block.own-holes[3]: 0.3 in → 0.4 in',
        ],
      },
    },
  ],
  [
    'a cell not read',
    '[0.1, 0.2, 0.3]',
    '[0.1, _, 0.3]',
    {
      jig: { inputs: ['block.own-holes[2]: 0.2 in → null'] },
      thicker: { inputs: ['block.own-holes[2]: 0.2 in → null'] },
    },
  ],
  [
    'a figure of a part, under an order',
    'own-wall: 0.200 in',
    'own-wall: 0.210 in',
    {
      jig: { inputs: ['block.own-wall: 0.200 in → 0.210 in specified'] },
      thicker: { inputs: ['block.own-wall: 0.200 in → 0.210 in specified'] },
    },
  ],
  [
    'another part',
    'block: B-1',
    'block: B-2',
    {
      jig: { inputs: ['block.own-wall: 0.200 in → 0.250 in specified'] },
      thicker: { inputs: ['block.own-wall: 0.200 in → 0.250 in specified'] },
    },
  ],
  [
    'a choice',
    'duty: street',
    'duty: circuit',
    { jig: { inputs: ['duty: street → circuit'] }, thicker: { inputs: ['duty: street → circuit'] } },
  ],
  [
    'the variant alone',
    'was + 0.01 in',
    'was + 0.03 in',
    {
      jig: {},
      thicker: {
        inputs: ['block.own-cover: 0.002667 m → 0.003175 m'],
        follows: ['own-sum: 0.296 in → 0.316 in', 'own-double: 0.592 in → 0.632 in'],
        checks: [
          'own-rule: holds-on-paper → out-of-limits, worse',
          'expect own-double within <= 0.6 in: holds-on-paper → out-of-limits, worse',
        ],
      },
    },
  ],
  [
    'an expectation',
    '<= 0.6 in',
    '<= 0.57 in',
    {
      jig: {
        checks: [
          'expect own-double within <= 0.57 in: null → out-of-limits, worse',
          'expect own-double within <= 0.6 in: holds-on-paper → null',
        ],
      },
      thicker: {
        checks: [
          'expect own-double within <= 0.57 in: null → out-of-limits, worse',
          'expect own-double within <= 0.6 in: holds-on-paper → null',
        ],
      },
    },
  ],
  [
    'an expectation dropped',
    '  expect own-double within <= 0.6 in\n',
    '',
    {
      jig: { checks: ['expect own-double within <= 0.6 in: holds-on-paper → null'] },
      thicker: { checks: ['expect own-double within <= 0.6 in: holds-on-paper → null'] },
    },
  ],
  [
    'a limit of a rule',
    '<= 0.300 in',
    '<= 0.280 in',
    {
      jig: { checks: ['own-rule: holds-on-paper → out-of-limits, worse'] },
      thicker: { checks: ['own-rule: holds-on-paper → out-of-limits, worse'] },
    },
  ],
  [
    'a deviation accepted',
    '  expect own-double within <= 0.6 in\n',
    '  expect own-double within <= 0.6 in\n  accept own-rule within <= 0.310 in because "it clears"\n',
    { jig: {}, thicker: {} },
  ],
  [
    'a build that is called otherwise',
    'build jig {\n',
    'build rig {\n',
    { jig: { in: 'old' }, thicker: { in: 'old' }, rig: { in: 'new' } },
  ],
  [
    'a build more',
    'variant thicker of jig { block.own-cover: was + 0.01 in }\n',
    'variant thicker of jig { block.own-cover: was + 0.01 in }\nvariant thinner of jig { block.own-cover: was - 0.01 in }\n',
    { jig: {}, thicker: {}, thinner: { in: 'new' } },
  ],
  [
    'a formula',
    '2 * own-sum',
    '3 * own-sum',
    {
      jig: {
        follows: ['own-double: 0.572 in → 0.858 in'],
        checks: ['expect own-double within <= 0.6 in: holds-on-paper → out-of-limits, worse'],
      },
      thicker: {
        follows: ['own-double: 0.592 in → 0.888 in'],
        checks: ['expect own-double within <= 0.6 in: holds-on-paper → out-of-limits, worse'],
      },
    },
  ],
];
