// Markup as text: what comes from a file is escaped, what was made here is joined.
import { escaped } from '@thou/shared/drawing/svg';
import type { SheetLink } from '../sheets/document.ts';

/** Made here, and safe to stand in a page. */
export interface Markup {
  readonly html: string;
}

type Attributes = Readonly<Record<string, string | number | null>>;
type Inside = string | Markup | readonly Inside[];

/** `tag('td', { class: 'figure' }, '4.125')`. An attribute that is null is left out. */
export function tag(name: string, attributes: Attributes, ...inside: readonly Inside[]): Markup {
  const written = Object.entries(attributes).flatMap(([key, value]) =>
    value === null ? [] : [` ${key}="${escaped(String(value))}"`],
  );
  return { html: `<${name}${written.join('')}>${inside.map(textOf).join('')}</${name}>` };
}

/** What was made elsewhere of escaped text, such as a drawing. */
export function made(html: string): Markup {
  return { html };
}

function textOf(inside: Inside): string {
  if (typeof inside === 'string') return escaped(inside);
  return 'html' in inside ? inside.html : inside.map(textOf).join('');
}

/** Where a thing stands in its file, for who follows it there. */
export function placeOf(
  place: { readonly file: string; readonly line: number } | null,
): Record<string, string | number> {
  return place === null ? {} : { 'data-file': place.file, 'data-line': place.line };
}

/** A caption, a row of heads, and whatever rows are put under it. */
export function headedTable(
  attributes: Attributes,
  caption: string,
  heads: readonly string[],
  rows: readonly Inside[],
): Markup {
  const head = tag(
    'tr',
    {},
    heads.map((one) => tag('th', { scope: 'col' }, one)),
  );
  return tag('table', attributes, tag('caption', {}, caption), tag('thead', {}, head), tag('tbody', {}, rows));
}

/** Rows of cells; the first of each row names it. */
export function plainTable(
  caption: string,
  heads: readonly string[],
  rows: readonly (readonly Inside[])[],
  kind: string | null = null,
): Markup {
  const cells = (row: readonly Inside[]): Markup[] =>
    row.map((cell, at) => (at === 0 ? tag('th', { scope: 'row' }, cell) : tag('td', {}, cell)));
  return headedTable(
    { class: kind },
    caption,
    heads,
    rows.map((row) => tag('tr', {}, cells(row))),
  );
}

/** Links to other places of the same sheet, each with the part that has to be open for it. */
export function waysTo(links: readonly SheetLink[]): Markup[] {
  return links.map(({ text, anchor, part }, at) =>
    tag('span', {}, at === 0 ? '' : ', ', tag('a', { href: `#${anchor}`, class: 'figure', 'data-in': part }, text)),
  );
}
