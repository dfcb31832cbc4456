/**
 * The closed list of what the language objects to beyond syntax: code, severity and wording.
 * `{name}` stands for a named place. One code, one mistake; pages and tests hang on these codes.
 */
export type Severity = 'error' | 'warning' | 'advice' | 'hint';

interface Message {
  readonly severity: Severity;
  readonly text: string;
}
const error = (text: string): Message => ({ severity: 'error', text });
const warning = (text: string): Message => ({ severity: 'warning', text });
const advice = (text: string): Message => ({ severity: 'advice', text });
const hint = (text: string): Message => ({ severity: 'hint', text });

const names = {
  'name.unknown': error('"{name}" is not known here.{near}'),
  'name.taken': error('"{name}" is already the name of {what}; choose another name.'),
  'name.reserved': error('"{name}" is a word of the language; choose another name.'),
  'name.minus': error('"{name}" is read as one name; to subtract, leave a blank on both sides of the minus: {mended}.'),
  'name.no-such-part': error('There is no part "{name}" in this file or in the files that it uses.{near}'),
  'name.no-such-component': error('"{name}" is not a component.{near}'),
  'name.no-such-type': error('"{name}" is no kind of quantity, component, axis or choice.{near}'),
  'name.no-such-axis': error('"{name}" is not an axis here.{near}'),
  'name.no-such-choice': error('"{name}" is not one of {choices}.{near}'),
  'name.no-such-label': error('"{name}" is not a place along {axis}: {labels}.{near}'),
  'name.no-such-function': error('"{name}" is not a function or a curve.{near}'),
  'name.not-inside': error('{owner} has no "{name}".{near}'),
  'name.no-such-base': error('There is no build "{name}" in this file or in the files that it uses.{near}'),
  'name.base-circle': error('"{name}" is a variant of itself in the end; one of them must be a variant of a build.'),
  'name.ambiguous-axis': error('"{name}" could be {choices}; name it through its mount.'),
  'use.not-found': error('The file "{path}" is not there. It is looked for from where this file stands.'),
  'use.refused': error('"{path}" is not opened: {why}.'),
  'use.edition': error('This version carries edition {have} of the trade library, not {asked}.'),
  'use.no-edition': {
    severity: 'hint',
    text: 'No edition of the trade library is named: the newest, {have}, speaks. "use prelude {have}" pins it.',
  },
  'use.name-clash': error(
    '"{name}" is declared in {first} and in {second}, which are both used here; use one of them.',
  ),
  'use.practice-clash': error(
    '{first} and {second} are used at the same distance and give different figures for {path}; use one of them, or set the figure here.',
  ),
  'use.word': error('After "use" stands a file in quotes, or "prelude" with its edition.'),
} as const;

const units = {
  'unit.unknown': error('"{name}" is not a unit.{near}'),
  'unit.malformed': error('"{name}" cannot be read as a unit: {why}.'),
  'unit.missing': error('A unit is missing: {what} is {type}, so write for example {example}.'),
  'unit.not-here': error('{what} is a plain number; the unit {unit} does not belong to it.'),
  'unit.pound': error('"lb" is a mass; where a force is due write "{better}".'),
  'unit.taken': error('"{name}" is already a unit; choose another name.'),
} as const;

const dimensions = {
  'dimension.sum': error('{left} is {leftType}, {right} is {rightType}: they do not {verb}.'),
  'dimension.points': error('Two temperatures do not add; write a difference in K or R, or use absolute(…).'),
  'dimension.scaled-point': error(
    'A temperature in degrees is a point on a scale and cannot be multiplied; use absolute(…).',
  ),
  'dimension.due': error('{what} is {due}; {value} is {type}.'),
  'dimension.angle': error('{what} is {due}; here {type} comes out: a turn or a radian is {extra}.'),
  'dimension.exponent': error('The exponent of a figure with a unit must be a written number.'),
  'dimension.argument': error('{function} takes {due}; {value} is {type}.'),
  'dimension.plain': error('{what} must be a plain number; {value} is {type}.'),
  'dimension.condition': error('A yes or no is due here; {value} is {type}.'),
  'dimension.limits': error('Limits can be shifted by a figure and multiplied or divided by a number, nothing else.'),
  'dimension.within': error('Behind "within" stand limits, as in 1..2 mm or >= 1 mm; {value} is {type}.'),
  'dimension.whole': error('{what} is a count: it must be a whole number.'),
} as const;

const axes = {
  'axes.left-over': error(
    '{what} is one figure {due}; this has one {have}. Name what happens to the rest, for example {example}.',
  ),
  'axes.no-such': error('{value} does not vary along {axis}{have}.'),
  'axes.key-left': error('{value} names one place too many: no axis is left for this one.'),
  'axes.key-kind': error('The axis {axis} has the places {labels}; a number does not name one.'),
  'axes.list-unplaced': error(
    'It is not clear along which axis this list runs, {axes}; write the names of its places, as in [front: …, rear: …].',
  ),
  'axes.list-deep': error('This list is nested deeper than {what} has axes.'),
  'axes.mixed-keys': error('Either every figure of a list is named or none is.'),
  'axes.duplicate-key': error('"{key}" stands twice in this list. One of the two must go, or name another place.'),
  'axes.twin': error('A twin of an axis is written with "is": axis {name} is {twin}.'),
  'axes.twin-circle': error('"{name}" is a twin of itself in the end; one of them must name its places.'),
  'axes.shape': error(
    'The places of an axis are names (front | rear), a range (1..8) or plain numbers in brackets ([1, 2, 4]).',
  ),
  'axes.step': error('Places with a unit need a step, as in "{range} step …".'),
  'axes.curve-rows': error('Every row of this curve is given for the same figures: {keys}.'),
  'axes.choice-due': error('Behind "by" stands a choice, a yes or no, or a place on an axis; {value} is {type}.'),
  'axes.others-idle': error('"others" covers nothing here: every case of {axis} is named.'),
  'axes.curve-rises': error('What a curve is given for must rise from figure to figure; {key} does not.'),
  'axes.size-depends': error(
    'The size of an axis must not depend on another axis. Give it one number of places for all.',
  ),
  'axes.needs-over': error('{function} needs to know along what: write "over" and an axis{example}.'),
  'axes.index': error('A place along {axis} is due here; {value} is {type}.'),
} as const;

const calls = {
  'solve.range': error('Say between what {name} is looked for, as in "solve {name}: Length in 0 in..2 in".'),
  'solve.count': error(
    '{unknowns} with {equations}: there must be one equation for each figure that is looked for, and at most three.',
  ),
  'call.too-many': error('{name} calls functions that call functions, {most} and more; write it with fewer.'),
  'call.arguments': error('{function} takes {due}; here {here}. Write {call}.'),
} as const;

const declarations = {
  'declare.twice': error('"{name}" is declared twice; choose another name.'),
  'declare.cycle': error('{names} cannot be computed: {why}.'),
  'declare.holds-itself': error('A {component} would hold itself{through}.'),
  'declare.severity': error('A rule is an error, a warning or advice, not "{name}".{near}'),
  'declare.feature': error(
    '"{name}" does not belong here; a cut makes a figure "grows" or "falls", else it is "bought" or "set"; a flag may be "ticked".',
  ),
  'declare.no-expect': error('The rule has no "expect". Without one it can never speak: say what must hold.'),
  'declare.too-many': error('{component} holds too many parts: at most {most}.'),
  'declare.where-long': error('At most {most} figures stand in one "where"; here are {here}.'),
  'declare.function-cycle': error('A function cannot call itself, not through others either.'),
} as const;

const given = {
  'given.computed': error('{path} is computed and cannot be set; measure it, or set what it is made of.'),
  'given.twice': error('{path} is given twice in this block; the second speaks.'),
  'given.part-due': error('{path} is a {component}: name a part, or give its figures in braces.'),
  'given.not-a-part': error('{path} is a figure; braces belong to parts. Give it behind a colon.'),
  'given.wrong-part': error('"{name}" is a {component}; {path} takes a {due}.'),
  'given.one-for-many': error(
    '{path} is one reading {due}; write a list{inside}, or "others:" for those that read alike.',
  ),
  'given.part-circle': error(
    'The part "{name}" would hold itself. Break the circle: name another part behind "of" or inside.',
  ),
  'given.was': error(
    '"was" stands only in machining and in variants. Elsewhere nothing came before: write the figure.',
  ),
  'given.family': error(
    'Sizes that can be bought are a range with a step, as in 1.20..3.50 mm step 0.05 mm; {value} is none.',
  ),
  'given.part-list': error('{path} is one {component}, not several: name one part.'),
  'given.off-step': error('{value} cannot be bought: the sizes run {family}; nearest {near}.'),
  'given.note': error(
    'Behind a figure stand "on" and a date, "with" and an instrument, "by" and a name, "at" and a temperature; "{word}" is none of them.',
  ),
  'given.blank': error('"_" is a figure that was not taken; it has its place in a list of figures, not in a formula.'),
  'given.setting-cut': error('{path} says what is allowed; it is no size and cannot be {done}.'),
  'given.instrument': warning('"{name}" is not an instrument in this file or in the files that it uses.{near}'),
  'given.no-shape': error('An expectation compares a figure with limits, as in "expect length within 10 mm .. 11 mm".'),
  'given.unused': advice('This {what} is not used. Take it out, or use it.'),
} as const;

const history = {
  'list.too-short': error('One figure for each {axis} is due, {due} in all; the list holds {here}.'),
  'list.too-long': error('One figure for each {axis} is due, {due} in all; the list holds {here}.'),
  'list.no-such-place': error('"{key}" is not a place along {axis}.'),
  'list.others-covers-nothing': error('"others" covers nothing here: every place along {axis} is named.'),
  'list.too-large': error('{what} would have {here} places; at most {due} are possible.'),
  'accept.no-such-check': error('There is no check "{name}" here.{near}'),
  'accept.not-needed': advice('{name} holds without this; the accept can go.'),
  'expect.looser': advice('This is looser than {whose}, which holds {limits}; the looser one is taken.'),
  'reading.overtaken': hint('{path} was read before {cut}, which changed {what}: read it again.'),
  'reading.disagrees': advice(
    '{path} was read as {reading} but computes as {computed}: {difference} apart, more than both are unsure of.',
  ),
  'reading.unit': warning('{path} was read as {reading}, where {asked} is given: look at the unit.'),
  'reading.point': warning('{path} was read as {reading}, where {asked} is given: look at the point.'),
  'reading.alike': hint(
    '{path} reads the same to the last digit in all {count} places: was each of them read? What truly reads alike is written once, with "others:".',
  ),
  'reading.calibration': advice(
    'The calibration of {instrument} counted until {expires}; this reading is of {date}. Have it calibrated, and read again.',
  ),
  'reading.instrument': advice(
    'What {instrument} can tell apart is a {shows}, and {path} is a {is}: it is not counted here. Name what the figure was read with, or write ± with it.',
  ),
  'reading.coarse': advice(
    'The steps of {instrument}, {step}, are coarse for {path}: it has {width} from limit to limit. Steps of {due} or less would do.',
  ),
  cycle: hint('Give one of {names}: each is worked out from the others.'),
} as const;

const tables = {
  'csv.not-found': error('The file "{path}" is not there. It is looked for from where this file stands.'),
  'csv.refused': error('"{path}" is not opened: {why}.'),
  'csv.no-column': error('"{path}" has no column "{column}". The first line names the columns.'),
  'csv.column': error(
    '"{path}", line {line}: the column "{column}" is neither an axis of {what} nor its figure.{near}',
  ),
  'csv.figure': error('Only figures are read from a file; {what} is {type}.'),
  'csv.unreadable': error('"{path}" is not read: {why}.'),
  'csv.unit': error('"{path}": the column "{column}" must name its unit{wrong}, as in "{example}".'),
  'csv.no-unit': error('"{path}": the column "{column}" holds plain numbers; call it "{example}".'),
  'csv.not-a-number': error('"{path}", line {line}: "{text}" is not a number.'),
  'csv.double': error('"{path}", line {line}: this place was read before, in line {first}. Keep one of the two rows.'),
  'csv.shape': error('"{path}", line {line}: {here} cells where {due} are due.'),
  'csv.key': error('"{path}", line {line}: "{key}" is not a place along {axis}.'),
} as const;

export const messages = {
  ...names,
  ...units,
  ...dimensions,
  ...axes,
  ...calls,
  ...declarations,
  ...given,
  ...history,
  ...tables,
} as const satisfies Record<string, Message>;
export type Code = keyof typeof messages;

/** Wording with its places filled in. */
export function wording(code: Code, args: Readonly<Record<string, string>>): string {
  const text = messages[code].text.replace(/\{([\w-]+)\}/g, (_, name: string) => args[name] ?? '');
  return text.replace(/^(what|the|an|this) /, (word) => word.charAt(0).toUpperCase() + word.slice(1));
}

/** " Did you mean a, b or c?", or nothing. */
export function didYouMean(near: readonly string[]): string {
  if (near.length === 0) return '';
  const last = near[near.length - 1];
  return near.length === 1 ? ` Did you mean ${last}?` : ` Did you mean ${near.slice(0, -1).join(', ')} or ${last}?`;
}
