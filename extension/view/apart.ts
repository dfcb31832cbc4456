/** Figures taken apart on the page of the sheet: a button beside each, and under it branches that are asked for when they are opened. */

interface Asked {
  readonly figure: string;
  readonly view: string;
  readonly way: string;
}
export interface Told {
  readonly node: string;
  /** Null: the figure is gone. */
  readonly html: string | null;
}
type Ask = (node: string, asked: Asked) => void;
/** A branch that is open, as it is written down while the page is gone. */
type Kept = Asked & { readonly node: string };

export class TakenApart {
  private readonly sheet: HTMLElement;
  private readonly ask: Ask;
  /** Told when other branches are open than before. */
  private readonly changed: () => void;
  /** What a button says, with `{0}` for the name of its figure. */
  private readonly label: string;
  /** Branches that are open, by their way from the figure, and what was asked for each. */
  private readonly open = new Map<string, Asked>();
  private readonly had = new Map<string, string>();

  /** `kept`: what an earlier page had open; opened again as soon as its figures are there. */
  constructor(sheet: HTMLElement, ask: Ask, changed: () => void, kept: unknown) {
    this.sheet = sheet;
    this.ask = ask;
    this.changed = changed;
    if (Array.isArray(kept)) for (const { node, ...asked } of kept.filter(isKept)) this.open.set(node, asked);
    this.label = sheet.dataset['apart'] ?? '{0}';
    sheet.addEventListener('toggle', ({ target }) => target instanceof HTMLDetailsElement && this.toggled(target), {
      capture: true,
    });
  }

  /** Those that stand under others come after them. */
  kept(): readonly Kept[] {
    return [...this.open].map(([node, asked]) => ({ node, ...asked }));
  }

  /** Puts a button before each figure of a piece that is new. */
  equip(piece: Element): void {
    for (const link of piece.querySelectorAll<HTMLElement>('th a[data-path], td a[data-path], h3 a[data-path]')) {
      const button = Object.assign(document.createElement('button'), { type: 'button', className: 'apart' });
      button.dataset['opens'] = link.dataset['path'];
      button.setAttribute('aria-expanded', 'false');
      button.setAttribute('aria-label', this.label.replace('{0}', link.textContent ?? ''));
      link.before(button);
    }
  }

  clicked(button: HTMLElement): void {
    const figure = button.dataset['opens']!;
    if (this.open.has(figure)) {
      for (const node of this.open.keys()) if (node === figure || node.startsWith(`${figure}\n`)) this.forget(node);
      this.sheet
        .querySelector(`[data-node="${CSS.escape(figure)}"]`)
        ?.closest('.apart-of')
        ?.remove();
      button.setAttribute('aria-expanded', 'false');
      return;
    }
    this.opened(figure, { figure, view: 'measured', way: 'both' });
    this.placeUnder(button);
    this.ask(figure, this.open.get(figure)!);
  }

  private opened(node: string, asked: Asked): void {
    this.open.set(node, asked);
    this.changed();
  }

  /** After the pieces of the page have changed: what was open is there again, and asked for anew. */
  refresh(before: ReadonlyMap<string, Element>): void {
    for (const [node, asked] of this.open) {
      if (node.includes('\n')) continue;
      const button = this.sheet.querySelector<HTMLElement>(`button[data-opens="${CSS.escape(asked.figure)}"]`);
      if (button && !this.bodyOf(node)) this.placeUnder(button, before.get(node));
    }
    for (const [node, asked] of this.open) if (this.bodyOf(node)) this.ask(node, asked);
  }

  /** What is open on the page now, to be put back after the page has changed. */
  shown(): Map<string, Element> {
    const all = [...this.sheet.querySelectorAll<HTMLElement>('.apart-of')];
    return new Map(all.map((each) => [each.querySelector<HTMLElement>('[data-node]')!.dataset['node']!, each]));
  }

  told({ node, html }: Told): void {
    const body = this.bodyOf(node);
    if (!body || !this.open.has(node) || this.had.get(node) === html) return;
    this.had.set(node, html ?? '');
    const focused = this.focusIn(body);
    const template = document.createElement('template');
    template.innerHTML = html ?? '';
    body.replaceChildren(template.content);
    for (const branch of body.querySelectorAll<HTMLDetailsElement>('details[data-apart]')) {
      const inside = branch.querySelector<HTMLElement>('.inside')!;
      inside.dataset['node'] = [node, branch.dataset['way'], branch.dataset['view'], branch.dataset['apart']].join(
        '\n',
      );
      const below = inside.dataset['node'];
      if (!this.open.has(below)) continue;
      this.had.delete(below);
      branch.open = true;
    }
    if (focused !== null) body.querySelectorAll<HTMLElement>('summary, a')[focused]?.focus({ preventScroll: true });
  }

  private toggled(branch: HTMLDetailsElement): void {
    const node = branch.querySelector<HTMLElement>(':scope > .inside')?.dataset['node'];
    const { apart: figure, view, way } = branch.dataset;
    if (node === undefined || figure === undefined || view === undefined || way === undefined) return;
    if (!branch.open) return this.forget(node);
    this.opened(node, { figure, view, way });
    this.ask(node, { figure, view, way });
  }

  private forget(node: string): void {
    this.open.delete(node);
    this.had.delete(node);
    this.bodyOf(node)?.replaceChildren();
    this.changed();
  }

  private bodyOf(node: string): Element | null {
    return this.sheet.querySelector(`[data-node="${CSS.escape(node)}"]`);
  }

  /** Which of the things that can have the focus has it. */
  private focusIn(body: Element): number | null {
    const at = [...body.querySelectorAll('summary, a')].indexOf(document.activeElement as Element);
    return at < 0 ? null : at;
  }

  /** Under the row of a table, else under the line that names the figure. */
  private placeUnder(button: HTMLElement, old?: Element): void {
    button.setAttribute('aria-expanded', 'true');
    const node = button.dataset['opens']!;
    const row = button.closest('tr');
    const place = row ? lastLineOf(row) : button.parentElement!;
    if (old && old instanceof HTMLTableRowElement === (row !== null)) return place.after(old);
    this.had.delete(node);
    const inside = Object.assign(document.createElement('div'), { className: 'inside' });
    inside.dataset['node'] = node;
    if (!row) {
      inside.classList.add('apart-of');
      return place.after(inside);
    }
    const line = document.createElement('tr');
    line.classList.add('apart-of', 'further');
    const columns = [...row.cells].reduce((sum, { colSpan }) => sum + colSpan, 0);
    const cell = Object.assign(document.createElement('td'), { colSpan: columns });
    cell.append(inside);
    line.append(cell);
    place.after(line);
  }
}

function isKept(thing: unknown): thing is Kept {
  if (typeof thing !== 'object' || thing === null) return false;
  const { node, figure, view, way } = thing as Readonly<Record<string, unknown>>;
  return [node, figure, view, way].every((one) => typeof one === 'string');
}

/** A figure may have further lines: nothing stands between them. */
function lastLineOf(row: Element): Element {
  let last = row;
  while (last.nextElementSibling?.matches('.further:not(.apart-of), .under')) last = last.nextElementSibling;
  return last;
}
