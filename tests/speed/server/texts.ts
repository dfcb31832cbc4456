/** The same amount of text for every server: what the samples say, as builds, as YAML, as JSON, and for a plain grammar. */
import { fileOf } from '../text.ts';

/** Where the measured edit goes: two texts for one stretch of a line, and what is said of the file only when the second stands there. */
export interface Edited {
  readonly text: string;
  readonly line: number;
  readonly from: number;
  readonly good: string;
  readonly bad: string;
}

function editOf(text: string, before: string, good: string, bad: string): Edited {
  const at = text.indexOf(before + good) + before.length;
  if (at < before.length) throw new Error(`"${before}${good}" is not in the text`);
  const above = text.slice(0, at).split('\n');
  return { text, line: above.length - 1, from: above.at(-1)!.length, good, bad };
}

/** A ring gap of the first build: another figure, one digit shorter, so that all that stands behind it moves. */
export function thouText(lines: number): Edited {
  return editOf(fileOf(lines), '0.0192, ', '0.0172', '0.017');
}

const keys = ['width', 'depth', 'height', 'gap', 'mass', 'angle'] as const;

function records(lines: number, perRecord: number): number[] {
  return Array.from({ length: Math.max(1, Math.round(lines / perRecord)) }, (_, index) => index + 1);
}

/** A record of 26 lines in YAML: six figures on four places, named. */
export function yamlText(lines: number): Edited {
  const text = records(lines, 26).map((record) => {
    const places = ['a', 'b', 'c', 'd'].map(
      (place) => `  ${place}:\n${keys.map((key, at) => `    ${key}: ${figure(record, at)}`).join('\n')}`,
    );
    return `- name: row-${record}\n${places.slice(0, 3).join('\n')}\n  note: as it came\n  d: { ${keys.map((key, at) => `${key}: ${figure(record, at)}`).join(', ')} }`;
  });
  return editOf(`# yaml-language-server: $schema=./schema.json\n${text.join('\n')}\n`, 'width: ', figure(1, 0), 'wide');
}

export function jsonText(lines: number): Edited {
  const text = records(lines, 27).map((record) => {
    const figures = keys.map((key, at) => `"${key}": ${figure(record, at)}`);
    const places = ['a', 'b', 'c'].map((place) => `    "${place}": {\n      ${figures.join(',\n      ')}\n    }`);
    return `  {\n    "name": "row-${record}",\n${places.join(',\n')}\n  }`;
  });
  return editOf(
    `{ "$schema": "./schema.json", "rows": [\n${text.join(',\n')}\n] }\n`,
    '"width": ',
    figure(1, 0),
    '"wide"',
  );
}

/** For a grammar of rows with figures that name each other. */
export function plainText(lines: number): Edited {
  const text = records(lines, 24).map(
    (record) =>
      `row row${record} {\n${['a', 'b', 'c'].map((place) => keys.map((key, at) => `  ${key}-${place}: ${figure(record, at)} mm`).join('\n')).join('\n')}\n  like: row${record === 1 ? 1 : record - 1}\n  sum: (1 + 2) * 3\n}\n`,
  );
  return editOf(text.join('\n'), 'like: ', 'row1', 'rowless');
}

function figure(record: number, at: number): string {
  return (((record * 7919 + at * 104_729) % 9000) / 1000 + 1).toFixed(3);
}

const place = {
  type: 'object',
  properties: Object.fromEntries(keys.map((key) => [key, { type: 'number', minimum: 0 }])),
  additionalProperties: false,
};
const row = {
  type: 'object',
  properties: { name: { type: 'string' }, note: { type: 'string' }, a: place, b: place, c: place, d: place },
  required: ['name'],
  additionalProperties: false,
};

export const yamlSchema = { type: 'array', items: row };
export const jsonSchema = {
  type: 'object',
  properties: { $schema: { type: 'string' }, rows: { type: 'array', items: row } },
};

export const plainGrammar = `grammar Plain
entry File: rows+=Row*;
Row: 'row' name=ID '{' members+=Member* '}';
Member: Like | Sum | Figure;
Like: 'like' ':' row=[Row:ID];
Sum: 'sum' ':' value=Expression;
Figure: name=ID ':' value=NUMBER unit=ID;
Expression: Addition;
Addition infers Expression: Product ({infer Binary.left=current} operator=('+' | '-') right=Product)*;
Product infers Expression: Primary ({infer Binary.left=current} operator=('*' | '/') right=Primary)*;
Primary infers Expression: '(' Expression ')' | {infer Literal} value=NUMBER;
terminal NUMBER returns number: /[0-9]+(\\.[0-9]+)?/;
terminal ID: /[A-Za-z_][A-Za-z0-9_-]*/;
hidden terminal WS: /\\s+/;
`;

export const emptyGrammar = `grammar Plain
entry File: words+=ID*;
terminal ID: /[^\\s]+/;
hidden terminal WS: /\\s+/;
`;
