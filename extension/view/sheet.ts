/** Inside the page of the sheet: puts in what the server sent, keeps its place, and says what was chosen. Markup comes escaped from the server. */

interface Editor {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}
declare function acquireVsCodeApi(): Editor;

interface Told {
  readonly builds: readonly string[];
  readonly build: string;
  readonly kinds: readonly string[];
  readonly summary: string;
  readonly html: string;
}
interface Shown {
  readonly uri: string;
  readonly build: string | null;
  readonly kind: string;
}
type Message =
  | { readonly is: 'sheet'; readonly shown: Shown; readonly told: Told | null; readonly empty: string }
  | { readonly is: 'here'; readonly figure: string };

const editor = acquireVsCodeApi();
const sheet = document.querySelector<HTMLElement>('#sheet')!;
const announcer = document.querySelector<HTMLElement>('#told')!;
const builds = document.querySelector<HTMLSelectElement>('#build')!;
const kinds = document.querySelector<HTMLSelectElement>('#kind')!;
let lastSummary = '';
let lastShown = '';

window.addEventListener('message', ({ data }: MessageEvent<Message>) => {
  if (data.is === 'sheet') show(data);
  else if (data.is === 'here') mark(data.figure);
});

for (const choice of [builds, kinds])
  choice.addEventListener('change', () => editor.postMessage({ is: 'choose', build: builds.value, kind: kinds.value }));

sheet.addEventListener('click', (event) => {
  const at = event.target instanceof Element ? event.target : null;
  const figure =
    at?.closest<HTMLElement>('[data-cell]')?.dataset['cell'] ??
    at?.closest<HTMLElement>('a[data-path]')?.dataset['path'];
  const finding = at?.closest<HTMLElement>('[data-finding]')?.dataset['finding'];
  if (figure === undefined && finding === undefined) return;
  event.preventDefault();
  editor.postMessage(figure === undefined ? { is: 'open', finding } : { is: 'open', figure });
});

/** With the place on the page and what had the focus as they were. */
function show({ shown, told, empty }: Message & { readonly is: 'sheet' }): void {
  editor.setState(shown);
  const place = window.scrollY;
  const focused = document.activeElement instanceof HTMLElement ? document.activeElement.dataset['path'] : undefined;
  const open = new Set([...sheet.querySelectorAll('details[open]')].map(nameOf));
  sheet.innerHTML = told?.html ?? '';
  if (!told) sheet.append(Object.assign(document.createElement('h1'), { textContent: empty }));
  for (const details of sheet.querySelectorAll('details')) if (open.has(nameOf(details))) details.open = true;
  offer(builds, told?.builds ?? [], told?.build ?? '');
  offer(kinds, told?.kinds ?? [], shown.kind);
  const what = `${shown.uri} ${shown.build} ${shown.kind}`;
  window.scrollTo({ top: what === lastShown ? place : 0, behavior: 'instant' });
  lastShown = what;
  if (focused !== undefined)
    sheet.querySelector<HTMLElement>(`a[data-path="${CSS.escape(focused)}"]`)?.focus({ preventScroll: true });
  const summary = told?.summary ?? empty;
  if (lastSummary !== '' && summary !== lastSummary) announcer.textContent = summary;
  lastSummary = summary;
}

function nameOf(details: Element): string {
  return details.closest<HTMLElement>('[data-drawing]')?.dataset['drawing'] ?? '';
}

function offer(choice: HTMLSelectElement, names: readonly string[], chosen: string): void {
  choice.replaceChildren(...names.map((name) => new Option(name, name, false, name === chosen)));
}

function mark(figure: string): void {
  for (const old of sheet.querySelectorAll('.here')) old.classList.remove('here');
  const row = sheet.querySelector(`[data-row="${CSS.escape(figure)}"]`);
  const first = row?.matches('tr') ? row : row?.querySelector('tr');
  if (!first) return;
  first.classList.add('here');
  const still = document.body.classList.contains('vscode-reduce-motion');
  first.scrollIntoView({ block: 'nearest', behavior: still ? 'instant' : 'smooth' });
}

editor.postMessage({ is: 'ready' });
