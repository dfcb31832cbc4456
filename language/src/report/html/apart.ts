// A figure taken apart as markup: branches that can be opened, each naming what is to be asked for when somebody opens it.
import type { Step, TakenApart, Way } from '../taken-apart.ts';
import { tag, type Markup } from './markup.ts';

/** `figure`: what was taken apart. */
export function apartMarkup({ about, places, made, used }: TakenApart, figure: string): Markup {
  const link = tag('a', { href: '#', class: 'figure', 'data-path': figure }, figure);
  const nothing = places.length + made.length + used.length === 0;
  return tag(
    'div',
    { class: 'tree' },
    tag('p', { class: 'from' }, 'In the text: ', link),
    about.map((line) => tag('p', {}, line)),
    branches('Each of them', places, 'both'),
    branches('Made of', made, 'made'),
    branches('Used by', used, 'used'),
    nothing && about.length === 0 ? tag('p', {}, 'Nothing is known of it yet.') : '',
  );
}

function branches(title: string, steps: readonly Step[], way: Way): Markup | '' {
  if (steps.length === 0) return '';
  return tag(
    'div',
    { role: 'group', 'aria-label': title },
    tag('p', { class: 'branches' }, title),
    tag(
      'ul',
      {},
      steps.map((step) => tag('li', {}, branch(step, way))),
    ),
  );
}

function branch({ text, from, figure, view, opens }: Step, way: Way): Markup {
  const told = tag('span', {}, text, from === '' ? '' : tag('span', { class: 'from' }, `, ${from}`));
  if (figure === null) return told;
  if (!opens) {
    const link = tag('a', { href: '#', class: 'figure', 'data-path': figure }, text);
    return tag('span', {}, link, from === '' ? '' : tag('span', { class: 'from' }, `, ${from}`));
  }
  return tag(
    'details',
    { 'data-apart': figure, 'data-view': view, 'data-way': way },
    tag('summary', {}, told),
    tag('div', { class: 'inside' }),
  );
}
