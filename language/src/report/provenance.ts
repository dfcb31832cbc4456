// Where a figure comes from, in words: whose it is, when it was read, by whom and with what, and where that stands.
// Knows no layout.
import { fixed } from '@thou/shared/number/format';
import type { Assignment, Layer } from '../semantics/bind/binding.ts';
import type { View } from '../semantics/ir.ts';
import type { Outcome, ReadWarm, SlotOutcome } from '../semantics/plan/outcome.ts';
import { sheetOfPart } from './parts.ts';
import { placesOf } from './cells.ts';
import { withUnit, wordOf } from './figures.ts';
import { enclosing, placeInWords, words } from './place.ts';
import type { Files } from './place.ts';
import { aligned, table } from './table.ts';
import { readingsIn } from './typed.ts';
import { showingsIn, showingsOf } from './units.ts';
import type { Showing } from './units.ts';

const layerWords: Readonly<Record<Layer | 'formula', string>> = {
  default: 'default',
  'mount-default': 'default here',
  practice: 'practice',
  part: 'part',
  build: 'given',
  variant: 'given in the variant',
  machining: 'ordered',
  measured: 'measured',
  formula: 'worked out',
};

/** `measured, Back from the shop, on 2026-03-14, by A. H., with gauge 3 (rig.thou:40)`. */
export function originText(one: SlotOutcome, cell: number, view: View, files: Files): string {
  const layer = one.layerOf(cell, view);
  const source = one.sourceOf(cell, view);
  if (layer === null) return one.states[cell] === 'not-applicable' ? 'not applicable' : 'missing';
  if (source) {
    const how = howRead(source, one, cell, one.warmOf(cell, view), showingsOf(one.slot)[0]!);
    return sourceText(source, layer, files, how);
  }
  const place = placeInWords(files.placeOf(one.slot.origin));
  const how =
    layer === 'measured'
      ? 'measured, from its readings'
      : one.slot.exactDefault
        ? 'default'
        : layerWords[layer === 'default' && one.slot.formula ? 'formula' : layer];
  return place === '' ? how : `${how} (${place})`;
}

/** `mean of 3, read as 4.1262 in at 28 °C, brought to 20 °C`. */
function howRead(
  source: Assignment,
  one: SlotOutcome,
  cell: number,
  warm: ReadWarm | null,
  showing: Showing,
): readonly string[] {
  const count = source.slot === one.slot.id ? readingsIn(source.value, one.axes, placesOf(one.axes, cell)) : 1;
  return [count > 1 ? `mean of ${count}` : '', temperatureText(source, warm, showing)];
}

function temperatureText({ temperature, instrument }: Assignment, warm: ReadWarm | null, showing: Showing): string {
  if (temperature === null) return '';
  const at = `at ${fixed(temperature - 273.15, 1).replace('.0', '')} °C`;
  if (warm === null) return at;
  if (warm.is === 'brought')
    return `${warm.asRead === null ? '' : `read as ${withUnit(warm.asRead, showing)} `}${at}, brought to 20 °C`;
  const gauge = instrument === null ? 'what it was read with' : words(instrument);
  return `${at}, not brought to 20 °C: how ${gauge} grows is not given`;
}

function sourceText(source: Assignment, layer: Layer | 'formula', files: Files, how: readonly string[]): string {
  const parts = [
    layerWords[layer],
    source.whose,
    layer === 'part' ? sheetOf(source) : '',
    source.date && `on ${source.date}`,
    source.hand && `by ${source.hand}`,
    source.instrument && `with ${words(source.instrument)}`,
    ...how,
    source.reason,
  ].filter((part) => part !== null && part !== '' && part !== undefined);
  const place = placeInWords(files.placeOf(source.origin));
  return [...new Set(parts)].join(', ') + (place === '' ? '' : ` (${place})`);
}

function sheetOf({ origin }: Assignment): string {
  const part = enclosing(origin.at, 'Part');
  return part ? sheetOfPart(part) : '';
}

/** All that was said of the cell, lowest first; the one that speaks is marked. */
export function stepLines(outcome: Outcome, one: SlotOutcome, cell: number, files: Files): string[] {
  const steps = one.historyOf(cell);
  if (steps.length === 0 || (steps.length === 1 && steps[0]!.source === null)) return [];
  const [showing] = showingsIn(outcome, one.slot);
  const rows = steps.map(({ layer, value, source, warm, speaks }) => [
    speaks && steps.length > 1 ? '  >' : '   ',
    Number.isFinite(value) ? (wordOf(outcome, one, value) ?? withUnit(value, showing!)) : '—',
    source ? sourceText(source, layer, files, howRead(source, one, cell, warm, showing!)) : layerWords[layer],
  ]);
  const figures = aligned(
    rows.map(([, figure]) => figure!),
    'point',
  );
  return [
    '',
    steps.length === 1 ? 'Where it comes from' : 'What was said of it; the one that counts is marked',
    ...table(
      rows.map(([mark, , from], at) => [mark!, figures[at]!, from!]),
      ['left', 'left', 'left'],
    ),
  ];
}
