// `thou explain --moves`: what follows when one figure that was given changes.
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { thou } from './run.ts';

const tarn = fileURLToPath(new URL('../../../samples/tarn-427.thou', import.meta.url));
const moves = (name: string, digits: string) => thou('explain', tarn, name, '--moves', digits);

describe('what follows a change', () => {
  it('lists every figure that moves by its last shown digit, and no other', async () => {
    const ran = await moves('block.deck-height[1, front]', '100');
    expect(ran).toMatchObject({ code: 0, err: '' });
    // 0.010 in off the front of the left deck: cylinder 1 comes down by all of it, its quench too, and the ratio rises
    expect(ran.out).toMatch(/What follows when it goes from 9\.2385 in to 9\.2285 in\n +now +then/);
    expect(ran.out).toMatch(/\n {2}deck-clearance\[1\] +0\.0035 in +-0\.0065 in/);
    expect(ran.out).toMatch(/\n {2}quench\[1\] +0\.0425 in +0\.0325 in/);
    expect(ran.out).toMatch(/\n {2}compression\[1\] +10\.67 +10\.91/);
    expect(ran.out).toMatch(/\n {2}intake\.valve-to-piston\[1\] +0\.068 in +0\.059 in/);
    expect(ran.out).toMatch(/No longer holds: Quench is out of limits/);
    const [, follows = ''] = ran.out.split('What follows');
    expect(follows).not.toMatch(/main-clearance|bobweight|piston-to-wall/);
    expect(follows).not.toContain('block.deck-height');
  });
  it('goes the way that a cut takes the figure', async () => {
    const ran = await moves('head.chamber[1]', '10');
    expect(ran.out).toMatch(/goes from 70\.1 cc to 71\.1 cc/);
    expect(ran.out).toMatch(/\n {2}clearance-volume\[1\] +90\.6 cc +91\.6 cc/);
  });
  it('says so where a figure is worked out from others', async () => {
    const ran = await moves('quench[1]', '10');
    expect(ran.out).toContain('This figure is not given but worked out, or missing: ask for one that is given.');
  });
  it('is not there unless it is asked for, and takes whole numbers only', async () => {
    expect((await thou('explain', tarn, 'quench[1]')).out).not.toContain('What follows');
    for (const bad of ['0', '-1', 'ten', '1.5']) expect((await moves('quench[1]', bad)).code).toBe(2);
  });
});
