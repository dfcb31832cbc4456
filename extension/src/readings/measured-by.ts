/** Who measures, when and with what: asked once, remembered from the last time. */
import type { DueReadings, MeasuredBy } from '@thou/shared/protocol-readings';
import { l10n, window, type Memento } from 'vscode';

const key = 'thou.measuredBy';

/** Undefined where it was broken off. */
export async function askMeasuredBy(memory: Memento, due: DueReadings): Promise<MeasuredBy | undefined> {
  const before = memory.get<Partial<MeasuredBy>>(key, {});
  const hand = await window.showInputBox({
    title: l10n.t('Readings of {0}: who measures', due.build),
    prompt: l10n.t('A name or initials; may be left empty'),
    value: due.last.hand ?? before.hand ?? '',
    ignoreFocusOut: true,
  });
  if (hand === undefined) return undefined;
  const date = await window.showInputBox({
    title: l10n.t('Readings of {0}: when', due.build),
    prompt: l10n.t('Year, month and day, such as 2026-03-02'),
    value: today(),
    ignoreFocusOut: true,
    validateInput: (typed) => (isDate(typed) ? undefined : l10n.t('Write it as year-month-day, such as 2026-03-02.')),
  });
  if (date === undefined) return undefined;
  const instrument = await askInstrument(due, due.last.instrument ?? before.instrument ?? null);
  if (instrument === undefined) return undefined;
  const by: MeasuredBy = { hand: hand.trim(), date: date.trim(), instrument };
  await remember(memory, by);
  return by;
}

export async function remember(memory: Memento, by: MeasuredBy): Promise<void> {
  await memory.update(key, by);
}

/** Null: none; undefined: broken off. The last one comes first. */
export async function askInstrument(due: DueReadings, last: string | null): Promise<string | null | undefined> {
  const none = { label: l10n.t('No instrument named'), name: null };
  const known = due.instruments.map((name) => ({ label: name, name }));
  const first = known.filter(({ name }) => name === last);
  const others = known.filter(({ name }) => name !== last);
  const chosen = await window.showQuickPick([...first, ...(last === null ? [none, ...others] : [...others, none])], {
    title: l10n.t('Readings of {0}: with what', due.build),
    placeHolder: l10n.t('Instruments that this file knows'),
    ignoreFocusOut: true,
  });
  return chosen?.name;
}

function isDate(typed: string): boolean {
  return /^\d{4}-\d{2}-\d{2}$/.test(typed.trim()) && !Number.isNaN(Date.parse(typed.trim()));
}

/** By the clock of the place. */
function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
}
