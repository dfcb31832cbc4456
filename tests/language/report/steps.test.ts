/** Places along steps are told in the unit of the step; programs get them in SI as before. How a reading came about is told with it. */
import { describe, expect, it } from 'vitest';
import { explain } from '../../../language/src/report/explain.ts';
import { sheetJson } from '../../../language/src/report/json.ts';
import type { Files } from '../../../language/src/report/place.ts';
import { engine } from '../../reference/rows/row.ts';
import { run } from '../../reference/run.ts';

const files: Files = { nameOf: () => 'row.thou', placeOf: () => null };
const told = (text: string, name: string): string => {
  const lines = explain(run(text).builds[0]!.outcome, name, { deep: 1, files });
  return 'problem' in lines ? lines.problem : lines.join('\n');
};

describe('places along steps', () => {
  const text = engine(
    '',
    'axis turn = -1 deg..1 deg step 0.5 deg\nderive wave: Length per turn as 0.00 mm = (if turn < 0 deg then 2 mm else 3 mm)',
  );
  it('are named in the unit of the step', () => {
    expect(told(text, 'wave')).toContain('wave[-1 deg] = 2.00 mm');
    expect(told(text, 'wave')).toContain('turn 0.5 deg');
  });
  it.each(['wave[0.5 deg]', 'wave[0.5]', 'wave[turn: 0.5 deg]'])(
    'are asked for with the unit or without: %s',
    (name) => {
      expect(told(text, name)).toContain('wave[0.5 deg] = 3.00 mm');
    },
  );
  it('say where they begin and end to who asks for another', () => {
    expect(told(text, 'wave[0.2 deg]')).toBe(
      '"0.2 deg" is no place of wave, which has turn -1 deg, -0.5 deg, 0 deg, 0.5 deg or 1 deg.',
    );
  });
  it('are in SI for programs', () => {
    const { axisLabels } = sheetJson([run(text).builds[0]!.outcome], { version: '0', edition: 1, files }).builds[0]!;
    expect(axisLabels['turn']).toHaveLength(5);
    expect(axisLabels['turn']![3]).toBeCloseTo(Math.PI / 360, 12);
  });
});

describe('how a reading came about', () => {
  const gauges = `part gauge: Instrument { resolution: 0.001 mm, expansion: 11.5 um/m/K }
part mic: Instrument { resolution: 0.001 mm }`;
  const text = engine(
    `layout: single
block.material: cast-aluminium
measured "Warm shop" on 2026-07-02 with gauge at 28 degC {
  block.bore: [80.050] mm
  piston.skirt: [repeated [80.001, 80.003, 80.002]] mm with mic
}`,
    gauges,
  );
  it('says what was read, how warm, and that it was brought to 20 degC', () => {
    // 80.05 · (1 + 11.5e-6 · 8) / (1 + 21.5e-6 · 8) = 80.0436
    const bore = told(text, 'block.bore');
    expect(bore).toContain('block.bore[1] = 80.044');
    expect(bore).toContain('with gauge, read as 80.050 mm at 28 °C, brought to 20 °C');
  });
  it('says why it was not, and how many readings a mean is of', () => {
    const skirt = told(text.replace('cast-aluminium', 'cast-aluminium\npiston.metal: cast'), 'piston.skirt');
    expect(skirt).toContain('with mic, mean of 3, at 28 °C, not brought to 20 °C: how mic grows is not given');
  });
});
