/** The names of the language's own functions and values, with how each is called. One list for names, completion and manual. */

export type Shape = 'elementwise' | 'reduction' | 'along' | 'view' | 'standing' | 'curve' | 'special';

export interface Builtin {
  readonly shape: Shape;
  /** As a builder would write it. */
  readonly call: string;
  readonly doc: string;
}

const reductionDocs = {
  sum: 'The sum.',
  min: 'The least figure.',
  max: 'The greatest figure.',
  mean: 'The mean.',
  spread: 'The greatest less the least.',
  count: 'How many there are; of a yes or no, how many are yes.',
  any: 'Whether one of them is.',
  all: 'Whether all of them are.',
  'where-least': 'The place of the least.',
  'where-most': 'The place of the greatest.',
  'where-first': 'The first place that is.',
  least: 'The least along a stepped axis, found between the steps too.',
  most: 'The greatest along a stepped axis, found between the steps too.',
  'least-at': 'Where along a stepped axis it is least.',
  'most-at': 'Where along a stepped axis it is greatest.',
  area: 'The area under it along a numeric axis.',
} as const;

const of = (shape: Shape, call: string, doc: string): Builtin => ({ shape, call, doc });

export const builtins: ReadonlyMap<string, Builtin> = new Map<string, Builtin>([
  ['abs', of('elementwise', 'abs(x)', 'The size of x without its sign.')],
  ['sign', of('elementwise', 'sign(x)', '1, 0 or -1.')],
  ['largest', of('elementwise', 'largest(x, y, …)', 'The greatest of several figures, cell by cell.')],
  ['smallest', of('elementwise', 'smallest(x, y, …)', 'The least of several figures, cell by cell.')],
  ['sqrt', of('elementwise', 'sqrt(x)', 'The square root.')],
  ['exp', of('elementwise', 'exp(x)', 'e to the power x.')],
  ['log', of('elementwise', 'log(x)', 'The natural logarithm.')],
  ['log10', of('elementwise', 'log10(x)', 'The logarithm to base 10.')],
  ['sin', of('elementwise', 'sin(angle)', 'The sine of an angle.')],
  ['cos', of('elementwise', 'cos(angle)', 'The cosine of an angle.')],
  ['tan', of('elementwise', 'tan(angle)', 'The tangent of an angle.')],
  ['asin', of('elementwise', 'asin(x)', 'The angle whose sine is x.')],
  ['acos', of('elementwise', 'acos(x)', 'The angle whose cosine is x.')],
  ['atan', of('elementwise', 'atan(x)', 'The angle whose tangent is x.')],
  ['atan2', of('elementwise', 'atan2(y, x)', 'The angle of the point x, y.')],
  ['hypot', of('elementwise', 'hypot(x, y)', 'The root of the sum of the squares.')],
  ['wrap', of('elementwise', 'wrap(x, period)', 'x brought into 0 up to the period.')],
  ['wrap-centred', of('elementwise', 'wrap-centred(x, period)', 'x brought into half a period either side of 0.')],
  [
    'to-step',
    of('elementwise', 'to-step(x, step, nearest)', 'x brought to a whole number of steps: nearest, up or down.'),
  ],
  ['round', of('elementwise', 'round(x)', 'The nearest whole number.')],
  ['floor', of('elementwise', 'floor(x)', 'The whole number below.')],
  ['ceiling', of('elementwise', 'ceiling(x)', 'The whole number above.')],
  ['absolute', of('elementwise', 'absolute(t)', 'A temperature as so many kelvins above nothing.')],
  ['low', of('standing', 'low(x)', 'The lower end of limits or of a tolerance.')],
  ['middle', of('standing', 'middle(x)', 'The middle of limits or of a tolerance.')],
  ['high', of('standing', 'high(x)', 'The upper end of limits or of a tolerance.')],
  ['given', of('standing', 'given(x)', 'Whether anybody gave a figure.')],
  ['present', of('standing', 'present(x)', 'Whether the part is fitted.')],
  ['machined', of('standing', 'machined(x)', 'Whether an order cuts it.')],
  ['uncertainty', of('standing', 'uncertainty(x)', 'The standard uncertainty of a figure.')],
  ['read-on', of('standing', 'read-on(x)', 'The date of the reading.')],
  ['read-at', of('standing', 'read-at(x)', 'The temperature of the reading.')],
  ['specified', of('view', 'specified(x)', 'x as specified.')],
  ['ordered', of('view', 'ordered(x)', 'x as ordered from the shop.')],
  ['before', of('view', 'before(x)', 'x as it was before it was cut.')],
  ['measured', of('view', 'measured(x)', 'x as measured.')],
  ['computed', of('view', 'computed(x)', 'x by its formula, whatever was read.')],
  ...(
    [
      'sum',
      'min',
      'max',
      'mean',
      'spread',
      'count',
      'any',
      'all',
      'where-least',
      'where-most',
      'where-first',
      'least',
      'most',
      'least-at',
      'most-at',
      'area',
    ] as const
  ).map((name): [string, Builtin] => [name, of('reduction', `${name}(x over axis)`, reductionDocs[name])]),
  ['next', of('along', 'next(x over axis)', 'The figure of the next place, round the end.')],
  ['previous', of('along', 'previous(x over axis)', 'The figure of the place before, round the end.')],
  ['running', of('along', 'running(x over axis)', 'The sum of the figures before.')],
  ['rank', of('along', 'rank(x over axis)', 'The place of each figure in order of size, from 1.')],
  [
    'smoothed',
    of(
      'along',
      'smoothed(x over axis, window, order)  smoothed(curve, window, order)',
      'A local quadratic through the neighbours; order 1 and 2 are its slopes.',
    ),
  ],
  ['slope', of('along', 'slope(x over axis)  slope(curve, n)', 'How fast a figure or a curve rises.')],
  ['inverse', of('special', 'inverse(p)', 'Where each place is pointed from.')],
  ['coordinate', of('special', 'coordinate(i)', 'The quantity of a place on its axis.')],
  ['unknown', of('special', 'unknown("why")', 'A figure that cannot be had, and why.')],
  [
    'through',
    of('curve', 'through(c, linear)', 'The curve read straight, by logarithm or smoothly: linear, log, monotone.'),
  ],
  ['clamped', of('curve', 'clamped(c)', 'The curve, held at its ends.')],
  ['rises-at', of('curve', 'rises-at(c, level)', 'Where the curve first comes up through a level.')],
  ['falls-at', of('curve', 'falls-at(c, level)', 'Where the curve last falls through a level.')],
  ['keys', of('curve', 'keys(c)', 'What the curve is given for.')],
  ['values', of('curve', 'values(c)', 'The figures of the curve.')],
  ['curve', of('special', 'curve(keys, values over axis)', 'A curve through the cells along an axis.')],
  ['assign', of('special', 'assign(cost over row to p)', 'One choice for every row, at the least total.')],
  [
    'nearest-sum',
    of('special', 'nearest-sum(sizes over s, target, at-most)', 'How many of each size come nearest to a target.'),
  ],
  ['pooled', of('special', 'pooled(x, y over p)', 'Cells of several figures in one row.')],
  ['offered', of('special', 'offered(path)', 'That figure over the parts that the file sees.')],
]);

/** A word among the arguments of a function that chooses how it works. */
export interface Options {
  /** Which argument it is, counted from 0. */
  readonly argument: number;
  /** What each chooses; the first where none is written. */
  readonly words: ReadonlyMap<string, string>;
}

const options = (argument: number, words: Readonly<Record<string, string>>): Options => ({
  argument,
  words: new Map(Object.entries(words)),
});

export const builtinOptions: ReadonlyMap<string, Options> = new Map([
  [
    'through',
    options(1, {
      monotone:
        'Smoothly from figure to figure, without a bend in the slope, and never beyond the figures on both sides.',
      linear: 'Straight from figure to figure.',
      log: 'Straight in the logarithm: for what grows by the same factor over the same way. Every figure must be above nought.',
    }),
  ],
  [
    'to-step',
    options(2, {
      nearest: 'To the step that is nearest, up or down.',
      up: 'To the next step that is not less.',
      down: 'To the next step that is not more.',
    }),
  ],
  [
    'assign',
    options(1, {
      sum: 'The choices whose costs add up to the least.',
      spread: 'The choices whose costs lie closest together: the greatest less the least of them is least.',
    }),
  ],
]);

/** Names that nobody else may use for a value, and what each stands for. */
export const builtinValues: ReadonlyMap<string, string> = new Map([
  ['pi', 'The circumference of a circle over its diameter.'],
  ['yes', 'It is so.'],
  ['no', 'It is not so.'],
  ['none', 'There is none: what is optional is left off.'],
  [
    'was',
    'What it was before: in machining the figure before the cut, in a variant that of the build it is made from.',
  ],
  ['_', 'No figure here: the place keeps what it has without this list.'],
  ['others', 'Every place that is not named in the list.'],
]);
export const builtinNames: ReadonlySet<string> = new Set([...builtins.keys(), ...builtinValues.keys()]);
