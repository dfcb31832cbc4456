// What is still to be measured in a build and what is to be ordered, as a text; what settles most comes first.
import { chaptersOf } from '../../report/sections.ts';
import { sheetModel } from '../../report/sheet.ts';
import type { Files } from '../../report/place.ts';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import type { Guide } from '../environment.ts';

export function toMeasureText({ library }: Guide, outcome: Outcome, files: Files): string {
  const chapters = chaptersOf(library.files);
  const sheet = sheetModel(outcome, { files, chapters, cautions: [], edition: null, mistakes: 0 });
  const due = sheet.toMeasure.map(({ label, address, why, settles }) => {
    const reason = [why, settles === '' ? '' : `for ${settles}`].filter((part) => part !== '').join('; ');
    return `  ${label} (${address})${reason === '' ? '' : `: ${reason}`}`;
  });
  const orders = sheet.toOrder.map(
    ({ size, count, label, from }) =>
      `  ${count === 1 ? '' : `${count} × `}${size} ${label}${from === '' ? '' : `, from ${from}`}`,
  );
  const lines = [
    outcome.binding.name,
    '',
    ...(due.length === 0 ? ['Nothing is left to be measured.'] : ['Still to be measured', ...due]),
    ...(orders.length === 0 ? [] : ['', 'To be ordered', ...orders]),
  ];
  return `${lines.join('\n')}\n`;
}
