/** The window as a person uses it: keys, mouse, and what is to be seen. Waits for what appears, never for a time. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';

export interface Marked {
  readonly severity: 'error' | 'warning' | 'info' | 'hint';
  readonly line: number;
  /** The text that the line is drawn under. */
  readonly text: string;
}

export class Workbench {
  readonly page: Page;
  private readonly pictures: string;

  constructor(page: Page, pictures: string) {
    this.page = page;
    this.pictures = pictures;
    mkdirSync(pictures, { recursive: true });
  }

  async open(url: string): Promise<void> {
    // the first window of a host reads the whole editor: a busy machine takes its time
    await this.page.goto(url, { waitUntil: 'commit', timeout: 60_000 });
    await this.page.locator('.monaco-workbench').waitFor({ timeout: 60_000 });
    await this.page.locator('.explorer-folders-view .monaco-list-row').first().waitFor();
  }

  get editor(): Locator {
    return this.page.locator('.editor-group-container.active .editor-instance .monaco-editor').first();
  }

  /** Opens a file of the folder by its name, with the cursor at a place. */
  async show(file: string, line = 1, column = 1): Promise<void> {
    const name = file.split('/').pop()!;
    await this.page.keyboard.press('Control+P');
    await this.page.locator('.quick-input-widget input').fill(file);
    await this.chooseFile(name);
    await this.tab(name).waitFor();
    await this.editor.locator('.view-line').first().waitFor();
    await this.goTo(line, column);
  }

  /** Opens a file of the top folder where the editor cannot search for it. */
  async pick(name: string): Promise<void> {
    await this.page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).first().dblclick();
    await this.tab(name).waitFor();
    await this.editor.locator('.view-line').first().waitFor();
  }

  /** Goes down to the one with exactly this name: a text made of it, such as what changed since a commit, has a longer one and may come first. */
  private async chooseFile(name: string): Promise<void> {
    const rows = this.page.locator('.quick-input-list .monaco-list-row');
    const exactly = this.page.locator('.label-name', { hasText: new RegExp(`^${name.replaceAll('.', '\\.')}$`) });
    await rows.filter({ has: exactly }).first().waitFor();
    for (let steps = await rows.count(); steps > 0; steps--) {
      if (await this.page.locator('.quick-input-list .monaco-list-row.focused').filter({ has: exactly }).count()) break;
      await this.page.keyboard.press('ArrowDown');
    }
    await this.page.keyboard.press('Enter');
  }

  /** Waits until Enter would take this one: the list lags behind what is typed. */
  private async chosen(name: string): Promise<void> {
    await this.page.locator('.quick-input-list .monaco-list-row.focused', { hasText: name }).first().waitFor();
  }

  tab(name: string): Locator {
    return this.page.locator(`.tab.active[data-resource-name="${name}"]`);
  }

  async command(title: string): Promise<void> {
    await this.page.keyboard.press('F1');
    await this.page.locator('.quick-input-widget input').fill(`>${title}`);
    await this.chosen(title);
    await this.page.keyboard.press('Enter');
  }

  /** What is underlined on the lines in sight, in reading order. */
  async marked(): Promise<Marked[]> {
    return this.editor.evaluate((editor) => {
      const lineNumbers = [...editor.querySelectorAll<HTMLElement>('.margin-view-overlays .line-numbers')].map(
        (each) => ({
          line: Number(each.textContent),
          top: each.getBoundingClientRect().top,
        }),
      );
      const letters: { x: number; top: number; letter: string }[] = [];
      for (const line of editor.querySelectorAll('.view-lines .view-line')) {
        const { top } = line.getBoundingClientRect();
        const walk = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
        for (let node = walk.nextNode(); node; node = walk.nextNode()) {
          const text = node.textContent ?? '';
          for (let at = 0; at < text.length; at++) {
            const range = document.createRange();
            range.setStart(node, at);
            range.setEnd(node, at + 1);
            const box = range.getBoundingClientRect();
            letters.push({ x: (box.left + box.right) / 2, top, letter: text[at]! });
          }
        }
      }
      const near = (a: number, b: number): boolean => Math.abs(a - b) < 6;
      return [...editor.querySelectorAll<HTMLElement>('.view-overlays [class*="squiggly-"]')]
        .map((squiggle) => {
          const box = squiggle.getBoundingClientRect();
          const row = squiggle.parentElement!.getBoundingClientRect().top;
          return {
            severity: /squiggly-(error|warning|info|hint)/.exec(squiggle.className)![1] as 'error',
            line: lineNumbers.find(({ top }) => near(top, row))?.line ?? 0,
            text: letters
              .filter(({ x, top }) => near(top, row) && x > box.left && x < box.right)
              .map(({ letter }) => letter)
              .join('')
              .replaceAll('\u00a0', ' '),
            left: box.left,
          };
        })
        .sort((a, b) => a.line - b.line || a.left - b.left)
        .map(({ severity, line, text }) => ({ severity, line, text }));
    });
  }

  /** Waits until the lines in sight are underlined as wanted; the last sight is in the message if they never are. */
  async waitForMarks(wanted: (marks: readonly Marked[]) => boolean, patience = 40_000): Promise<Marked[]> {
    const until = Date.now() + patience;
    for (;;) {
      const marks = await this.marked();
      if (wanted(marks)) return marks;
      if (Date.now() > until) throw new Error(`underlined: ${JSON.stringify(marks)}`);
      await this.page.waitForTimeout(50);
    }
  }

  /** Rests the mouse on a word of a line and reads what comes up. A line above it may still come or go: then the word is looked for again. */
  async hover(line: number, word: string): Promise<string> {
    const shown = '.monaco-resizable-hover .monaco-hover-content, .monaco-hover:not(.hidden) .monaco-hover-content';
    const box = this.page.locator(shown).first();
    for (let patience = 6; ; patience -= 1) {
      const { x, y } = await this.placeOf(line, word);
      await this.page.mouse.move(x - 3, y);
      await this.page.mouse.move(x, y, { steps: 3 });
      const came = await box.waitFor({ timeout: 5_000 }).then(
        () => true,
        () => false,
      );
      if (came) break;
      if (patience === 0) throw new Error(`nothing comes up over "${word}" on line ${line}`);
      await this.page.mouse.move(x, y + 200);
    }
    await this.page.locator('.monaco-hover .hover-row', { hasText: /\S/ }).first().waitFor();
    return (await box.innerText()).replaceAll('\u00a0', ' ');
  }

  /** The middle of a word on a line in sight. */
  async placeOf(line: number, word: string): Promise<{ x: number; y: number }> {
    const place = await this.editor.evaluate(
      (editor, [wantedLine, wantedWord]) => {
        const number = [...editor.querySelectorAll<HTMLElement>('.margin-view-overlays .line-numbers')].find(
          (each) => Number(each.textContent) === wantedLine,
        );
        if (!number) return null;
        const top = number.getBoundingClientRect().top;
        const row = [...editor.querySelectorAll('.view-lines .view-line')].find(
          (each) => Math.abs(each.getBoundingClientRect().top - top) < 6,
        );
        if (!row) return null;
        const nodes: Node[] = [];
        const walk = document.createTreeWalker(row, NodeFilter.SHOW_TEXT);
        for (let node = walk.nextNode(); node; node = walk.nextNode()) nodes.push(node);
        const text = nodes
          .map((node) => node.textContent ?? '')
          .join('')
          .replaceAll('\u00a0', ' ');
        const start = text.indexOf(wantedWord as string);
        if (start < 0) return null;
        const middle = start + Math.floor((wantedWord as string).length / 2);
        let passed = 0;
        for (const node of nodes) {
          const length = node.textContent?.length ?? 0;
          if (middle < passed + length) {
            const range = document.createRange();
            range.setStart(node, middle - passed);
            range.setEnd(node, middle - passed + 1);
            const box = range.getBoundingClientRect();
            return { x: (box.left + box.right) / 2, y: (box.top + box.bottom) / 2 };
          }
          passed += length;
        }
        return null;
      },
      [line, word] as const,
    );
    if (!place) throw new Error(`"${word}" is not to be seen on line ${line}`);
    return place;
  }

  /** What stands beside the language's name in the status bar, once it says what is waited for. */
  async languageStatus(wanted: RegExp): Promise<string> {
    await this.page.locator('[id="status.languageStatus"]').hover();
    const box = this.page.locator('.hover-language-status', { hasText: wanted }).first();
    await box.waitFor();
    return box.innerText();
  }

  /** Selects a text on a line in sight and types another over it. */
  async replace(line: number, text: string, by: string): Promise<void> {
    const column = await this.columnOf(line, text);
    await this.goTo(line, column);
    for (let letter = 0; letter < text.length; letter++) await this.page.keyboard.press('Shift+ArrowRight');
    await this.page.keyboard.insertText(by);
  }

  /** Asks for the fixes at the cursor, as often as the editor drops the question: findings that come in meanwhile make it ask by itself instead. */
  async openFixes(words: string): Promise<void> {
    const wanted = this.page.locator('.action-widget .monaco-list-row', { hasText: words }).first();
    for (let patience = 5; ; patience -= 1) {
      await this.page.keyboard.press('Control+.');
      const came = await wanted.waitFor({ timeout: 8_000 }).then(
        () => true,
        () => false,
      );
      if (came) return;
      if (patience === 0) throw new Error(`no fix is offered that says "${words}"`);
      await this.page.keyboard.press('Escape');
    }
  }

  /** Puts the cursor there, counted from 1. */
  async goTo(line: number, column: number): Promise<void> {
    await this.page.keyboard.press('Control+G');
    await this.page.locator('.quick-input-widget input').fill(`:${line}:${column}`);
    await this.page.keyboard.press('Enter');
    await this.page.locator('.statusbar-item', { hasText: `Ln ${line}, Col ${column}` }).waitFor();
  }

  /** A question that comes up before something is thrown away is answered with yes, where one comes up. */
  async dismiss(): Promise<void> {
    const away = this.page.locator('.monaco-dialog-box .monaco-button', { hasText: /Don.t Save/ });
    const first = await Promise.race([
      away.waitFor({ timeout: 5000 }).then(() => true),
      this.page
        .locator('.editor-group-watermark')
        .first()
        .waitFor({ timeout: 5000 })
        .then(() => false),
    ]).catch(() => false);
    if (first) await away.click();
  }

  async save(): Promise<void> {
    await this.page.keyboard.press('Control+S');
    await this.page.locator('.tab.active:not(.dirty)').waitFor();
  }

  private async columnOf(line: number, text: string): Promise<number> {
    const at = (await this.lineText(line)).indexOf(text);
    if (at < 0) throw new Error(`"${text}" is not to be seen on line ${line}`);
    return at + 1;
  }

  async lineText(line: number): Promise<string> {
    const { y } = await this.placeOf(line, '');
    return this.editor.evaluate(
      (editor, wanted) =>
        [...editor.querySelectorAll('.view-lines .view-line')]
          .filter((row) => row.getBoundingClientRect().top <= wanted && wanted < row.getBoundingClientRect().bottom)
          .map((row) => (row.textContent ?? '').replaceAll('\u00a0', ' '))
          .join(''),
      y,
    );
  }

  /** The colour of each stretch of text on a line in sight. */
  async coloursOf(line: number): Promise<Map<string, string>> {
    const { y } = await this.placeOf(line, '');
    const pairs = await this.editor.evaluate(
      (editor, wanted) =>
        [...editor.querySelectorAll<HTMLElement>('.view-lines .view-line')]
          .filter((row) => row.getBoundingClientRect().top <= wanted && wanted < row.getBoundingClientRect().bottom)
          .flatMap((row) => [...row.querySelectorAll<HTMLElement>('span[class*="mtk"]')])
          .map(
            (span) =>
              [(span.textContent ?? '').replaceAll('\u00a0', ' ').trim(), getComputedStyle(span).color] as const,
          ),
      y,
    );
    return new Map(pairs);
  }

  async picture(name: string): Promise<string> {
    const path = join(this.pictures, `${name}.png`);
    await this.page.screenshot({ path });
    return path;
  }
}
