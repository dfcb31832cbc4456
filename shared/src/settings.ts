// The settings of the section `thou`: what each may be and what it is where nobody says. The manifest is held against this table by test.
import { caps } from './limits.ts';

export interface Flag {
  readonly is: 'flag';
  readonly usual: boolean;
}
export interface Choice<Word extends string> {
  readonly is: 'choice';
  readonly usual: Word;
  readonly words: readonly Word[];
}
export interface Whole {
  readonly is: 'number';
  readonly usual: number;
  readonly least: number;
  readonly most: number;
}

const flag = (usual: boolean): Flag => ({ is: 'flag', usual });
const whole = (usual: number, least: number, most: number): Whole => ({ is: 'number', usual, least, most });
const choice = <Word extends string>(usual: Word, ...words: readonly Word[]): Choice<Word> => ({
  is: 'choice',
  usual,
  words,
});

export const settingTable = {
  /** From which weight on a finding is underlined. */
  'findings.from': choice('hint', 'error', 'warning', 'advice', 'hint'),
  /** So many of one file; the rest is counted. */
  'findings.most': whole(caps.findingsShown, 1, 1000),
  /** Whether files are looked at that no editor shows. */
  'findings.files': choice('all', 'all', 'open'),
  'fixes.workedOut': flag(true),
  'fixes.accept': flag(true),
  'fixes.convert': flag(true),
  'inlayHints.margins': flag(true),
  'inlayHints.values': flag(false),
  /** Above a build how it stands; above a part where it is used. */
  'codeLens.build': flag(true),
  'codeLens.parts': flag(false),
  'hover.formula': flag(true),
  'hover.unsure': flag(true),
  'hover.limits': flag(true),
  /** Rows of a figure that has many places. */
  'hover.places': whole(12, 1, 100),
  /** Steps that an explanation goes back and on. */
  'explanation.steps': whole(4, 1, 12),
  'outline.figures': flag(true),
  /** What is completed brings places to be filled in, or the bare word. */
  'completion.toFill': flag(true),
  'formatting.enabled': flag(true),
  'trace.server': choice('off', 'off', 'messages', 'verbose'),
} as const;

type Table = typeof settingTable;
type ValueOf<One> = One extends Flag
  ? boolean
  : One extends Whole
    ? number
    : One extends Choice<infer Word>
      ? Word
      : never;

export type SettingName = keyof Table;
export type SettingValues = { readonly [Name in SettingName]: ValueOf<Table[Name]> };

/** As they hold, out of the nested records in which editors hand them over; what is no such value is as if nobody had said it. */
export function settingsIn(told: Readonly<Record<string, unknown>>): SettingValues {
  const entries = Object.entries(settingTable).map(([name, one]) => [name, valueOf(one, found(told, name))]);
  return Object.fromEntries(entries) as SettingValues;
}

function found(told: unknown, name: string): unknown {
  return name
    .split('.')
    .reduce<unknown>((at, key) => (isRecord(at) && Object.hasOwn(at, key) ? at[key] : undefined), told);
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function valueOf(one: Flag | Whole | Choice<string>, told: unknown): boolean | number | string {
  switch (one.is) {
    case 'flag':
      return typeof told === 'boolean' ? told : one.usual;
    case 'number':
      return typeof told === 'number' && Number.isFinite(told)
        ? Math.min(one.most, Math.max(one.least, Math.round(told)))
        : one.usual;
    case 'choice':
      return one.words.find((word) => word === told) ?? one.usual;
  }
}
