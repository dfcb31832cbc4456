/** Settings as editors hand them over: what is no value of the table counts as if nobody had said it. */
import { expect, test } from 'vitest';
import { settingsIn, settingTable } from '../../shared/src/settings.ts';

const usual = settingsIn({});

test('where nobody says anything each is as usual', () => {
  expect(usual).toEqual(Object.fromEntries(Object.entries(settingTable).map(([name, one]) => [name, one.usual])));
});

test.each([
  [{ hover: { places: 3 } }, 'hover.places', 3],
  [{ hover: { places: 2.6 } }, 'hover.places', 3],
  [{ hover: { places: 0 } }, 'hover.places', 1],
  [{ hover: { places: 1e9 } }, 'hover.places', 100],
  [{ hover: { places: NaN } }, 'hover.places', 12],
  [{ hover: { places: '3' } }, 'hover.places', 12],
  [{ hover: 3 }, 'hover.places', 12],
  [{ findings: { from: 'warning' } }, 'findings.from', 'warning'],
  [{ findings: { from: 'loud' } }, 'findings.from', 'hint'],
  [{ inlayHints: { margins: false } }, 'inlayHints.margins', false],
  [{ inlayHints: [false] }, 'inlayHints.margins', true],
  [{ inlayHints: null }, 'inlayHints.margins', true],
])('%j', (told, name, value) => {
  expect(settingsIn(told)).toEqual({ ...usual, [name]: value });
});

test('what hangs on a prototype is not said', () => {
  expect(settingsIn({ hover: Object.create({ places: 3 }) as object })).toEqual(usual);
});
