// Figures that a part or a practice gives, as a table: rows and columns where all of them lie along the same places.
import type * as ast from '../../grammar/generated/ast.ts';
import { textOf } from '../place.ts';
import type { Table } from './model.ts';

/** `[path, value]` of every figure, those of inner parts under their full path. */
export function givenIn(body: ast.Body | undefined, before = ''): [string, string][] {
  return (body?.members ?? []).flatMap((member): [string, string][] => {
    if (member.$type !== 'Given') return [];
    const path = before + (textOf(member.path) ?? '');
    const inner = givenIn(member.body, `${path}.`);
    return member.value ? [[path, textOf(member.value) ?? ''], ...inner] : inner;
  });
}

export function tableIn(body: ast.Body | undefined): Table | null {
  const rows = givenIn(body);
  return rows.length === 0 ? null : (gridOf(body) ?? { heads: ['figure', 'value'], rows });
}

/** Lists along the same places, at least two of them: a column a place. */
function gridOf(body: ast.Body | undefined): Table | null {
  const rows = (body?.members ?? []).map((member) => (member.$type === 'Given' ? listRow(member) : null));
  const [first] = rows;
  if (!first || rows.length < 2) return null;
  const heads = first.cells.map(({ key }) => key);
  const alike = rows.every((row) => row !== null && row.cells.map(({ key }) => key).join('\n') === heads.join('\n'));
  if (!alike) return null;
  return {
    heads: ['figure', ...heads],
    rows: rows.flatMap((row) => (row ? [[row.name, ...row.cells.map(({ text }) => text)]] : [])),
  };
}

interface Row {
  readonly name: string;
  readonly cells: readonly { readonly key: string; readonly text: string }[];
}

function listRow({ path, value, body }: ast.Given): Row | null {
  if (body || value?.$type !== 'List' || value.to !== undefined || value.subject) return null;
  const unit = value.unit === undefined ? '' : ` in ${value.unit}`;
  const cells = value.entries.map(({ value: first, item }) => ({
    key: item ? (textOf(first) ?? '') : '',
    text: textOf(item ?? first) ?? '',
  }));
  return cells.some(({ key, text }) => key === '' || text.length > 24)
    ? null
    : { name: `${textOf(path) ?? ''}${unit}`, cells };
}
