/** The closed list of messages against the cases: each has one that fails and one that is mended, and each is really said. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { messages, wording, type Code } from '../../../language/src/semantics/problems/messages.ts';
import { cases } from './check.ts';

/** Said by the plan when figures are laid out; their cases are with the plan. */
const ofThePlan = (code: string): boolean => /^(list|accept|expect|reading|cycle)(\.|$)/.test(code);

const codes = Object.keys(messages) as Code[];
const ownCodes = codes.filter((code) => !ofThePlan(code));

const sources = new URL('../../../language/src/', import.meta.url);
const texts = readdirSync(sources, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts') && !name.endsWith('messages.ts') && !name.includes('generated'))
  .map((name) => readFileSync(new URL(name, sources), 'utf8'));

describe('messages', () => {
  it('each has a case', () => {
    const due = new Set(cases.flatMap(({ files }) => files.flatMap((file) => file.due.map(({ code }) => code))));
    expect(ownCodes.filter((code) => !due.has(code))).toEqual([]);
  });

  it('each has a case that is mended', () => {
    const mended = new Set(
      cases
        .filter(({ files }) => files.some((file) => file.mended !== null))
        .flatMap(({ files }) => files.flatMap((file) => file.due.map(({ code }) => code))),
    );
    expect(ownCodes.filter((code) => !mended.has(code))).toEqual([]);
  });

  it('each is said somewhere in the sources', () => {
    expect(ownCodes.filter((code) => !texts.some((text) => text.includes(`'${code}'`)))).toEqual([]);
  });

  it('no case tells of a code that is not in the list', () => {
    const known = new Set<string>(codes);
    const told = cases.flatMap(({ files }) => files.flatMap((file) => file.due.map(({ code }) => code)));
    expect(told.filter((code) => !known.has(code))).toEqual([]);
  });

  it('speak to a machinist: no word of programming, a full sentence, every place filled', () => {
    for (const code of codes) {
      const { text } = messages[code];
      expect(text, code).not.toMatch(
        /\b(AST|node|symbol|undefined|null|token|expected|identifier|parse|invalid|boolean|string|array|syntax|type error)\b/i,
      );
      expect(text, code).toMatch(/[.?)}]$/);
      expect(wording(code, {}), code).not.toMatch(/\{[\w-]+\}/);
    }
  });
});
