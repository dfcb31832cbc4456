// One entry on a page: its address, what it takes, its formula with every name a link, its source, what uses it.
import { plainTable, tag, type Markup } from '../html/markup.ts';
import { labelWords } from './docs.ts';
import type { Entries, Formula, ManualEntry, Paragraph } from './model.ts';

/** More are shown only when they are asked for. */
const mostShown = 14;

export function entryMarkup(entry: ManualEntry, entries: Entries, file: string): Markup {
  const { id, name, sort, takes, shown, doc, formulas, given, facts, table } = entry;
  const address = (to: string): string | null => {
    const found = entries.get(to);
    return found ? `${found.chapter.file === file ? '' : `${found.chapter.file}.html`}#${to}` : null;
  };
  return tag(
    'section',
    { class: 'entry', id, 'aria-label': name },
    tag('h3', {}, tag('a', { href: `#${id}` }, name)),
    tag('p', { class: 'sort' }, [sort, takes, shown === '' ? '' : `shown as ${shown}`].filter(said).join('; ')),
    doc.map(paragraphMarkup),
    formulas.map((formula) => formulaMarkup(formula, address)),
    given.map(({ by, value }) => tag('p', {}, label(`Practice, ${by}`), tag('code', {}, value))),
    facts.map((fact) => tag('p', {}, fact)),
    table
      ? tag(
          'div',
          { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': `Figures of ${name}` },
          plainTable(name, table.heads, table.rows),
        )
      : '',
    refs('Made of', entry.uses, entries, address),
    refs('Used by', entry.usedBy, entries, address),
    refs('Checked by', entry.checkedBy, entries, address),
  );
}

const said = (part: string): boolean => part !== '';

function label(text: string): Markup {
  return tag('span', { class: 'label' }, `${text}: `);
}

function formulaMarkup({ label: what, pieces }: Formula, address: (to: string) => string | null): Markup {
  const written = pieces.map(({ text, to }) => {
    const href = to === null ? null : address(to);
    return href === null ? text : tag('a', { href }, text);
  });
  return tag('div', {}, label(what), tag('pre', {}, written));
}

function refs(
  what: string,
  ids: readonly string[],
  entries: Entries,
  address: (to: string) => string | null,
): Markup | string {
  const links = ids.flatMap((id) => {
    const found = entries.get(id)?.entry;
    const href = address(id);
    return found && href !== null ? [tag('a', { href }, found.name)] : [];
  });
  if (links.length === 0) return '';
  const list = (some: readonly Markup[]): (Markup | string)[] =>
    some.flatMap((link, at) => (at === 0 ? [link] : [', ', link]));
  if (links.length <= mostShown) return tag('p', { class: 'refs' }, label(what), list(links));
  return tag('details', { class: 'refs' }, tag('summary', {}, `${what} ${links.length}`), tag('p', {}, list(links)));
}

export function paragraphMarkup({ label: what, text, isCode }: Paragraph): Markup {
  if (isCode) return tag('pre', {}, text);
  const written = text.split('`').map((part, at) => (at % 2 === 1 ? tag('code', {}, part) : part));
  if (what === null) return tag('p', {}, written);
  return tag('p', { class: what === 'Caution' ? 'caution' : null }, label(labelWords(what)), written);
}
