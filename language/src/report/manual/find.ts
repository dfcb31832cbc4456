// Finding an entry by what was typed: the search of the manual's pages, which needs no server.
import { Entries, gistOf, type Manual } from './model.ts';

/** Name, what it belongs to or is, its address, and the first sentence of what is said of it. */
export type Findable = readonly [name: string, whose: string, address: string, gist: string];

function findables(manual: Manual): Findable[] {
  return new Entries(manual)
    .inOrder()
    .map(({ entry, chapter }) => [
      entry.name,
      entry.owner === null || entry.owner === entry.name ? entry.sort : `${entry.sort}, ${entry.owner}`,
      `${chapter.file}.html#${entry.id}`,
      gistOf(entry),
    ]);
}

/**
 * Places in the list, the best first: every word that was typed stands somewhere in the entry, and names count more than sentences.
 * Stands by itself, since its text goes into the page.
 */
export function ranked(all: readonly Findable[], typed: string, most: number): number[] {
  const words = typed
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');
  if (words.length === 0) return [];
  const whole = words.join('-');
  const weighed: { readonly at: number; readonly weight: number }[] = [];
  for (const [at, [name, whose, , gist]] of all.entries()) {
    const low = name.toLowerCase();
    const parts = low.split('-');
    let weight = low === whole ? 100 : low.startsWith(whole) ? 40 : 0;
    let isFound = true;
    for (const word of words) {
      if (parts.includes(word)) weight += 12;
      else if (parts.some((part) => part.startsWith(word))) weight += 8;
      else if (low.includes(word)) weight += 4;
      else if (`${whose} ${gist}`.toLowerCase().includes(word)) weight += 1;
      else isFound = false;
    }
    if (isFound) weighed.push({ at, weight: weight - parts.length / 10 });
  }
  return weighed
    .sort((a, b) => b.weight - a.weight || a.at - b.at)
    .slice(0, most)
    .map(({ at }) => at);
}

/** What runs in the pages: a field, and under it a list that keys and pointer alike walk through. */
export function findScript(manual: Manual): string {
  const list = JSON.stringify(findables(manual)).replaceAll('<', '\\u003c');
  return `const entries = ${list};
${ranked.toString()}
${glue}`;
}

const glue = `const field = document.getElementById('find');
const list = document.getElementById('found');
const told = document.getElementById('count');
let here = -1;

function show() {
  const places = ranked(entries, field.value, 30);
  list.replaceChildren(...places.map((at, place) => {
    const [name, whose, address, gist] = entries[at];
    const item = document.createElement('li');
    item.id = 'found-' + place;
    item.setAttribute('role', 'option');
    item.setAttribute('aria-selected', 'false');
    item.dataset.address = address;
    const head = document.createElement('b');
    head.textContent = name;
    const rest = document.createElement('span');
    rest.textContent = ' ' + whose + (gist === '' ? '' : ': ' + gist);
    item.append(head, rest);
    item.addEventListener('mousedown', (event) => { event.preventDefault(); go(item); });
    return item;
  }));
  const any = places.length > 0;
  list.hidden = !any;
  field.setAttribute('aria-expanded', String(any));
  told.textContent = field.value.trim() === '' ? '' : any ? places.length + (places.length === 30 ? ' or more' : '') + ' found' : 'nothing found';
  mark(any ? 0 : -1);
}

function mark(to) {
  list.children[here]?.setAttribute('aria-selected', 'false');
  here = to;
  const item = list.children[here];
  if (!item) { field.removeAttribute('aria-activedescendant'); return; }
  item.setAttribute('aria-selected', 'true');
  field.setAttribute('aria-activedescendant', item.id);
  item.scrollIntoView({ block: 'nearest' });
}

function close() {
  list.hidden = true;
  field.setAttribute('aria-expanded', 'false');
  mark(-1);
}

function go(item) {
  close();
  location.href = item.dataset.address;
}

field.addEventListener('input', show);
field.addEventListener('focus', () => { if (field.value !== '') show(); });
field.addEventListener('blur', close);
field.addEventListener('keydown', (event) => {
  const count = list.hidden ? 0 : list.children.length;
  if (event.key === 'ArrowDown' && count > 0) { event.preventDefault(); mark((here + 1) % count); }
  else if (event.key === 'ArrowUp' && count > 0) { event.preventDefault(); mark((here - 1 + count) % count); }
  else if (event.key === 'Enter' && list.children[here]) { event.preventDefault(); go(list.children[here]); }
  else if (event.key === 'Escape') { if (list.hidden) field.value = ''; close(); told.textContent = ''; }
});
document.addEventListener('keydown', (event) => {
  if (event.key === '/' && document.activeElement !== field && !event.ctrlKey && !event.metaKey && !event.altKey) {
    event.preventDefault();
    field.focus();
    field.select();
  }
});
`;
