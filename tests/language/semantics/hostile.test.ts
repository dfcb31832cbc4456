/** Hostile texts are read to their end: no exception, the slip told. They are timed by hand, not here. */
import { describe, expect, it } from 'vitest';
import { projectOf } from './check.ts';
import { hostileTexts } from './hostile.ts';

describe('hostile texts', () => {
  it.each(hostileTexts.map((one) => [one.name, one] as const))('%s', (_, { text, files = {}, says }) => {
    const texts = new Map([...Object.entries(files), ['main.thou', text]]);
    const project = projectOf(texts);
    for (const uri of texts.keys()) {
      if (!uri.endsWith('.thou')) continue;
      const codes = new Set(project.check(uri).problems.map(({ code }) => code));
      if (uri === 'main.thou') expect(says.filter((code) => !codes.has(code))).toEqual([]);
    }
    expect(Object.prototype).not.toHaveProperty('width');
  });
});
