/** Through what is still to be measured, one reading at a time: each is checked by the server while it is typed, and is one change that can be undone. */
import {
  dueMethod,
  readingMethod,
  type DueAsked,
  type DueReadings,
  type MeasuredBy,
  type ReadingAsked,
  type ReadingDue,
  type ReadingTold,
} from '@thou/shared/protocol-readings';
import {
  InputBoxValidationSeverity,
  l10n,
  ThemeIcon,
  window,
  type InputBox,
  type Memento,
  type QuickInputButton,
  type TextDocument,
  type TextEditor,
} from 'vscode';
import type { Server } from '../server.ts';
import { applyChanges, reveal } from '../places.ts';
import { askInstrument, askMeasuredBy, remember } from './measured-by.ts';

/** Where it begins: a build and a figure of it, `plate.width` or `plate.width[3]`. */
export interface WalkFrom {
  readonly uri: string;
  readonly build: string;
  readonly figure: string;
}

export async function walkThrough(server: Server, memory: Memento, editor: TextEditor, from?: WalkFrom): Promise<void> {
  const { document } = editor;
  const due = await askDue(server, editor, from?.build ?? null);
  if (!due) return;
  const first = due.readings.findIndex(({ figure }) => from !== undefined && isOf(figure, from.figure));
  if (due.readings.length === 0) {
    void window.showInformationMessage(l10n.t('Nothing is left to be measured in {0}.', due.build));
    return;
  }
  let by = await askMeasuredBy(memory, due);
  for (let at = Math.max(0, first); by !== undefined && at < due.readings.length; at++) {
    const step = new ReadingStep(server, document, due, at, by);
    const answer = await step.ask();
    if (answer.is === 'stopped') return;
    if (answer.is === 'written') await show(editor, answer.line);
    if (answer.is === 'back') at = Math.max(-1, at - 2);
    if (answer.is === 'instrument') {
      const instrument = await askInstrument(due, by.instrument);
      if (instrument !== undefined) {
        by = { ...by, instrument };
        await remember(memory, by);
      }
      at -= 1;
    }
  }
}

/** Null where the file has no build; that is said. */
export async function askDue(server: Server, editor: TextEditor, build: string | null): Promise<DueReadings | null> {
  const asked: DueAsked = {
    textDocument: { uri: editor.document.uri.toString() },
    build,
    position: editor.selection.active,
  };
  const due = await server.ask<DueReadings>(dueMethod, asked);
  if (!due) void window.showInformationMessage(l10n.t('This file has no build that can be read yet.'));
  return due;
}

/** The same figure, at one of its places. */
function isOf(figure: string, wanted: string): boolean {
  return figure === wanted || figure.replaceAll(/\[[^\]]*\]/g, '') === wanted;
}

async function show(editor: TextEditor, line: number): Promise<void> {
  await reveal(editor.document.uri.toString(), { start: { line, character: 0 }, end: { line, character: 0 } }, true);
}

type Answer =
  { readonly is: 'written'; readonly line: number } | { readonly is: 'skipped' | 'back' | 'instrument' | 'stopped' };

const skip: QuickInputButton = { iconPath: new ThemeIcon('debug-step-over'), tooltip: l10n.t('Skip this one') };
const back: QuickInputButton = { iconPath: new ThemeIcon('arrow-left'), tooltip: l10n.t('The one before') };
const tool: QuickInputButton = { iconPath: new ThemeIcon('tools'), tooltip: l10n.t('Another instrument') };

class ReadingStep {
  private readonly server: Server;
  private readonly document: TextDocument;
  private readonly due: DueReadings;
  private readonly reading: ReadingDue;
  private readonly by: MeasuredBy;
  private readonly box: InputBox;
  private turn = 0;
  /** The figure whose remark has been seen: Enter takes it all the same. */
  private warned: string | null = null;

  constructor(server: Server, document: TextDocument, due: DueReadings, at: number, by: MeasuredBy) {
    this.server = server;
    this.document = document;
    this.due = due;
    this.reading = due.readings[at]!;
    this.by = by;
    const { label, about, unit } = this.reading;
    const box = window.createInputBox();
    box.title = l10n.t('{0} of {1}: {2}', at + 1, due.readings.length, label);
    box.prompt = [by.instrument === null ? '' : l10n.t('with {0}', by.instrument), ...about]
      .filter((line) => line !== '')
      .join(' · ');
    box.placeholder = unit === null ? l10n.t('The figure') : l10n.t('The figure, in {0} where no unit is typed', unit);
    box.buttons = [...(at > 0 ? [back] : []), skip, tool];
    box.ignoreFocusOut = true;
    this.box = box;
  }

  ask(): Promise<Answer> {
    const { box } = this;
    return new Promise((answer) => {
      let last: Answer = { is: 'stopped' };
      const end = (now: Answer): void => {
        last = now;
        box.hide();
      };
      box.onDidChangeValue((typed) => void this.look(typed));
      box.onDidAccept(() => void this.take().then((taken) => taken && end(taken)));
      box.onDidTriggerButton((button) =>
        end({ is: button === back ? 'back' : button === skip ? 'skipped' : 'instrument' }),
      );
      box.onDidHide(() => {
        box.dispose();
        answer(last);
      });
      box.show();
    });
  }

  private async told(typed: string): Promise<ReadingTold | null> {
    const { due, reading, by, document } = this;
    const asked: ReadingAsked = {
      textDocument: { uri: document.uri.toString() },
      build: due.build,
      figure: reading.figure,
      typed,
      ...by,
    };
    return this.server.ask<ReadingTold>(readingMethod, asked);
  }

  /** An answer that comes after more was typed is none. */
  private async look(typed: string): Promise<void> {
    const turn = ++this.turn;
    if (typed.trim() === '') {
      this.box.validationMessage = undefined;
      return;
    }
    const told = await this.told(typed);
    if (turn === this.turn) this.say(typed, told);
  }

  private say(typed: string, told: ReadingTold | null): void {
    this.warned = told?.remark === null ? null : typed;
    const message = told?.problem ?? told?.remark ?? undefined;
    const severity = told?.problem === null ? InputBoxValidationSeverity.Warning : InputBoxValidationSeverity.Error;
    this.box.validationMessage = message === undefined ? undefined : { message, severity };
  }

  /** Null where it stays to be looked at. */
  private async take(): Promise<Answer | null> {
    const typed = this.box.value;
    if (typed.trim() === '') return { is: 'skipped' };
    const [{ version }, isWarned] = [this.document, this.warned === typed];
    const turn = ++this.turn;
    const told = await this.told(typed);
    if (turn !== this.turn) return null;
    if (!told || told.problem !== null || (told.remark !== null && !isWarned)) {
      this.say(typed, told);
      return null;
    }
    const isDone = version === this.document.version && (await applyChanges(this.document.uri, told.edits));
    return isDone ? { is: 'written', line: told.edits[0]?.range.start.line ?? 0 } : null;
  }
}
