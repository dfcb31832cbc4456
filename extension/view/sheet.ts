/** Inside the page of the sheet: puts in the pieces that the server sent, keeps its place, and says what was chosen. Markup comes escaped from the server. */

import { TakenApart, type Told as ApartTold } from './apart.ts';

interface Editor {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}
declare function acquireVsCodeApi(): Editor;

interface Piece {
  readonly id: string;
  /** Null: it is as it was. */
  readonly html: string | null;
}
interface Told {
  readonly builds: readonly string[];
  readonly build: string;
  readonly kinds: readonly { readonly name: string; readonly title: string; readonly about: string }[];
  readonly kind: string;
  readonly summary: string;
  readonly pieces: readonly Piece[];
}
interface Shown {
  readonly uri: string;
  readonly build: string | null;
  readonly kind: string;
}
type Message =
  | {
      readonly is: 'sheet';
      readonly shown: Shown;
      readonly open: readonly string[];
      readonly told: Told | null;
      readonly empty: string;
    }
  | { readonly is: 'here'; readonly figure: string }
  | ({ readonly is: 'apart' } & ApartTold);

const editor = acquireVsCodeApi();
const sheet = document.querySelector<HTMLElement>('#sheet')!;
const announcer = document.querySelector<HTMLElement>('#told')!;
const builds = document.querySelector<HTMLSelectElement>('#build')!;
const kinds = document.querySelector<HTMLSelectElement>('#kind')!;
const before = editor.getState();
const apart = new TakenApart(
  sheet,
  (node, asked) => editor.postMessage({ is: 'apart', node, ...asked }),
  keep,
  typeof before === 'object' && before !== null && 'apart' in before ? before.apart : [],
);
/** What the page shows, once it shows something. */
let now: Shown | null = null;
/** A place that was to be gone to and was not there yet. */
let awaited: string | null = null;
let lastSummary = '';
let lastShown = '';

/** What is here again after a restart. */
function keep(): void {
  if (now) editor.setState({ ...now, apart: apart.kept() });
}

window.addEventListener('message', ({ data }: MessageEvent<Message>) => {
  if (data.is === 'sheet') show(data);
  else if (data.is === 'here') mark(data.figure);
  else apart.told(data);
});

for (const choice of [builds, kinds])
  choice.addEventListener('change', () => editor.postMessage({ is: 'choose', build: builds.value, kind: kinds.value }));
document.querySelector('#print')!.addEventListener('click', () => editor.postMessage({ is: 'print' }));

sheet.addEventListener('click', (event) => {
  const at = event.target instanceof Element ? event.target : null;
  const folded = at?.closest('details.fold > summary')?.parentElement;
  if (folded instanceof HTMLDetailsElement) {
    event.preventDefault();
    fold(folded);
    return;
  }
  const way = at?.closest<HTMLAnchorElement>('a[data-in]');
  if (way) {
    event.preventDefault();
    goTo(way.hash.slice(1), way.dataset['in']!);
    return;
  }
  const button = at?.closest<HTMLElement>('button.apart');
  if (button) {
    apart.clicked(button);
    return;
  }
  const figure =
    at?.closest<HTMLElement>('[data-cell]')?.dataset['cell'] ??
    at?.closest<HTMLElement>('a[data-path]')?.dataset['path'];
  const finding = at?.closest<HTMLElement>('[data-finding]')?.dataset['finding'];
  if (figure === undefined && finding === undefined) return;
  event.preventDefault();
  editor.postMessage(figure === undefined ? { is: 'open', finding } : { is: 'open', figure });
});

/** Another place of the sheet; what is folded away comes from the server first. */
function goTo(anchor: string, part: string): void {
  const place = document.getElementById(decodeURIComponent(anchor));
  awaited = place ? null : anchor;
  if (!place) return editor.postMessage({ is: 'fold', piece: part, open: true });
  place.tabIndex = -1;
  place.focus({ preventScroll: true });
  place.scrollIntoView({ block: 'start', behavior: 'instant' });
}

/** What is inside comes from the server when it is opened. */
function fold(folded: HTMLDetailsElement): void {
  const isOpen = !folded.open;
  if (!isOpen) folded.open = false;
  editor.postMessage({ is: 'fold', piece: pieceIdOf(folded), open: isOpen });
}

function pieceIdOf(element: Element): string {
  return element.closest<HTMLElement>('[data-part]')?.dataset['part'] ?? '';
}

/** With the place on the page and what had the focus as they were. */
function show({ shown, open, told, empty }: Message & { readonly is: 'sheet' }): void {
  now = shown;
  keep();
  const what = `${shown.uri} ${shown.build} ${shown.kind}`;
  const place = what === lastShown ? topmost() : null;
  const had = document.activeElement instanceof HTMLElement ? document.activeElement : null;
  const focused = focusedBy(had);
  if (told) put(told, open);
  else sheet.replaceChildren(Object.assign(document.createElement('h1'), { textContent: empty }));
  offer(
    builds,
    (told?.builds ?? []).map((name) => ({ name, title: name, about: '' })),
    told?.build ?? '',
  );
  offer(kinds, told?.kinds ?? [], told?.kind ?? shown.kind);
  if (place) putBack(place);
  else window.scrollTo({ top: 0, behavior: 'instant' });
  lastShown = what;
  if (document.activeElement === document.body) {
    const again = had?.isConnected ? had : focused === null ? null : sheet.querySelector<HTMLElement>(focused);
    again?.focus({ preventScroll: true });
  }
  if (awaited !== null && document.getElementById(decodeURIComponent(awaited))) goTo(awaited, '');
  const summary = told?.summary ?? empty;
  if (lastSummary !== '' && summary !== lastSummary) announcer.textContent = summary;
  lastSummary = summary;
}

function focusedBy(had: HTMLElement | null): string | null {
  const { path, opens } = had?.dataset ?? {};
  if (opens !== undefined) return `button[data-opens="${CSS.escape(opens)}"]`;
  return path === undefined ? null : `a[data-path="${CSS.escape(path)}"]`;
}

/** Pieces that are as they were stay in the page; what nobody sent goes. */
function put({ build, kind, pieces }: Told, open: readonly string[]): void {
  const old = sheet.querySelector('article');
  const taken = apart.shown();
  const kept = new Map([...(old?.children ?? [])].map((piece) => [pieceIdOf(piece), piece]));
  const article = document.createElement('article');
  article.className = `sheet ${kind}`;
  article.dataset['build'] = build;
  for (const { id, html } of pieces) {
    const piece = html === null ? kept.get(id) : made(html, kept.get(id));
    if (!piece) continue;
    const folded = piece.querySelector<HTMLDetailsElement>(':scope > details.fold');
    if (folded) folded.open = open.includes(id);
    article.append(piece);
  }
  sheet.replaceChildren(article);
  apart.refresh(taken);
}

/** What was unfolded inside the piece before stays so. */
function made(html: string, before: Element | undefined): Element {
  const template = document.createElement('template');
  template.innerHTML = html;
  const piece = template.content.firstElementChild!;
  apart.equip(piece);
  for (const { dataset } of before?.querySelectorAll<HTMLElement>('details[data-fold][open]') ?? []) {
    const again = piece.querySelector<HTMLDetailsElement>(`details[data-fold="${CSS.escape(dataset['fold'] ?? '')}"]`);
    if (again) again.open = true;
  }
  return piece;
}

interface Anchor {
  readonly selector: string;
  readonly top: number;
}

/** What stands at the top of the view, a line of a table before the piece that holds it. */
function topmost(): Anchor | null {
  const bar = document.querySelector('.bar')!.getBoundingClientRect().bottom;
  if (window.scrollY === 0) return { selector: 'article', top: sheet.getBoundingClientRect().top };
  for (const selector of ['data-row', 'data-part']) {
    const found = [...sheet.querySelectorAll(`[${selector}]`)].find((element) => {
      const { top, bottom, height } = element.getBoundingClientRect();
      return height > 0 && (selector === 'data-row' ? top >= bar && top < window.innerHeight : bottom > bar);
    });
    if (found)
      return {
        selector: `[${selector}="${CSS.escape(found.getAttribute(selector)!)}"]`,
        top: found.getBoundingClientRect().top,
      };
  }
  return null;
}

function putBack({ selector, top }: Anchor): void {
  const found = sheet.querySelector(selector);
  if (found) window.scrollBy({ top: found.getBoundingClientRect().top - top, behavior: 'instant' });
}

interface Choice {
  readonly name: string;
  readonly title: string;
  readonly about: string;
}

function offer(choice: HTMLSelectElement, choices: readonly Choice[], chosen: string): void {
  const options = choices.map(({ name, title, about }) =>
    Object.assign(new Option(title, name, false, name === chosen), { title: about }),
  );
  choice.replaceChildren(...options);
}

function mark(figure: string): void {
  for (const old of sheet.querySelectorAll('.here')) old.classList.remove('here');
  const row = sheet.querySelector(`[data-row="${CSS.escape(figure)}"]`);
  if (!row) return;
  row.classList.add('here');
  const still = document.body.classList.contains('vscode-reduce-motion');
  row.scrollIntoView({ block: 'nearest', behavior: still ? 'instant' : 'smooth' });
}

editor.postMessage({ is: 'ready' });
