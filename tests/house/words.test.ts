/** The kernel knows no word of the trade: neither the trade's own words nor a compound name of its library stands in TypeScript. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { sourcesUnder, textOf, top } from './walls.ts';

/** Words that mean nothing outside the trade. Words such as "length", "spring" or "stroke of a pen" that others use too are left to the compounds. */
const tradeWords: ReadonlySet<string> = new Set(
  (
    'bore bores piston pistons cylinder cylinders crank crankshaft crankpin crankpins camshaft cam cams valve valves gasket gaskets engine engines pushrod pushrods ' +
    'rocker rockers throttle conrod lifter lifters tappet tappets redline quench squish bobweight bobweights flywheel damper manifold carburettor injector turbo ' +
    'camshafts lash overbore skirt skirts wristpin retainer retainers centreline firing displacement journal journals bearing bearings counterweight counterweights ' +
    'deck decks rod rods rings intake exhaust compression combustion dome lobe lobes sprocket crevice trapping wrist'
  ).split(' '),
);

/** Compounds of the trade library that a program would use for something else as well. */
const neutral = new Set(['to-size', 'to-step', 'room-left', 'in-order', 'read-places', 'checked-at']);

function compounds(): string[] {
  const folder = join(top, 'language/prelude');
  const names = readdirSync(folder)
    .filter((name) => name.endsWith('.thou'))
    .flatMap((file) => [
      ...textOf(`language/prelude/${file}`).matchAll(
        /^\s*(?:(?:derive|rule|axis|part|function)\s+)?([a-z][a-z0-9]*(?:-[a-z0-9]+)+)\s*[:={(]/gm,
      ),
    ])
    .map((match) => match[1]!);
  return [...new Set(names)].filter((name) => !neutral.has(name));
}

function camel(name: string): string {
  return name.replace(/-([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());
}

/** camelCase and hyphens taken apart. */
function wordsIn(text: string): string[] {
  return (
    text
      .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
      .toLowerCase()
      .match(/[a-z]+/g) ?? []
  );
}

function slipsIn(text: string, names: readonly string[]): string[] {
  const words = wordsIn(text).filter((word) => tradeWords.has(word));
  const whole = names.filter((name) => new RegExp(`(?<![\\w-])(${name}|${camel(name)})(?![\\w-])`).test(text));
  return [...new Set([...words, ...whole])];
}

test('the compounds of the trade library are found', () => {
  const names = compounds();
  expect(names.length).toBeGreaterThan(200);
  expect(names).toContain('deck-clearance');
});

test('a slip is caught, as a word and as a compound', () => {
  const names = compounds();
  expect(slipsIn('const pistonMass = 1;', names)).toEqual(['piston']);
  expect(slipsIn("slot('end-play')", names)).toEqual(['end-play']);
  expect(slipsIn('const endPlay = 1;', names)).toEqual(['end-play']);
  expect(slipsIn('a plain sentence about lengths', names)).toEqual([]);
});

test('no TypeScript of the kernel knows a word of the trade', () => {
  const names = compounds();
  const files = ['shared/src', 'language/src', 'extension']
    .flatMap(sourcesUnder)
    .filter((file) => !file.includes('/generated/'));
  expect(files.flatMap((file) => slipsIn(textOf(file), names).map((slip) => `${file}: ${slip}`))).toEqual([]);
});
