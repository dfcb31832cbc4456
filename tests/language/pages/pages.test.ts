/** Every code has a page, every page a code; its first example gives that code and nothing else, its second one gives nothing. */
import { readdirSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { format } from '../../../language/src/format/format.ts';
import { textProblems } from '../../../language/src/grammar/problem.ts';
import { pageOf, pages } from '../../../language/src/report/pages.ts';
import { filesOf } from '../../../language/src/report/place.ts';
import { problemsOfOutcomes } from '../../../language/src/report/problems.ts';
import { Places } from '../../../language/src/semantics/problems/places.ts';
import { Project, type Problem } from '../../../language/src/semantics/project.ts';
import { messages } from '../../../language/src/semantics/problems/messages.ts';
import { library } from '../../reference/library.ts';
import { indexFile, indexText } from './contents.ts';
import { allPages } from './read.ts';

/** All that is said of all files of an example, as the command line and the editor say it. */
function problemsOf(files: ReadonlyMap<string, string>): Problem[] {
  const project = new Project(
    {
      read: (uri) => files.get(uri),
      resolve: (from, path) => {
        if (path.startsWith('/')) return { problem: 'refused', why: 'only files beside this one are read' };
        const uri = posix.normalize(posix.join(posix.dirname(from), path));
        return files.has(uri) ? { uri } : { problem: 'not-found', why: '' };
      },
    },
    library,
  );
  const source = (uri: string) => project.source(uri);
  return [...files.keys()]
    .filter((uri) => uri.endsWith('.thou'))
    .flatMap((uri) => {
      const { problems, outcomes } = project.check(uri);
      return [
        ...problems,
        ...problemsOfOutcomes(
          uri,
          outcomes,
          new Places(source),
          filesOf(source, (name) => name),
        ),
      ];
    });
}

/** A short example always leaves something open: a hint at what is still missing goes with each. */
const isAside = ({ code }: Problem): boolean => code === 'missing';

const told = (problems: readonly Problem[]): string[] => problems.map(({ code, message }) => `${code}: ${message}`);

describe.each(allPages.map((page) => [page.name, page] as const))('%s', (name, page) => {
  it('goes wrong in this way and in no other', () => {
    const problems = problemsOf(page.wrong);
    const others = problems.filter((problem) => pageOf(problem.code) !== name && !isAside(problem));
    expect(told(others)).toEqual([]);
    expect(problems.map(({ code }) => pageOf(code))).toContain(name);
  });

  it('is mended', () => {
    const left = problemsOf(page.mended);
    expect(told(left.filter((problem) => !isAside(problem)))).toEqual([]);
    if (name !== 'missing') return;
    const known = new Set(told(left));
    expect(told(problemsOf(page.wrong)).filter((words) => !known.has(words)).length).toBe(1);
  });

  it('is mended as the formatter would set it', () => {
    for (const [file, text] of page.mended) if (file.endsWith('.thou')) expect(format(text)).toEqual({ text });
  });

  it('is called by its code, in words for the builder', () => {
    expect(page.title.startsWith(`${name}: `)).toBe(true);
    expect(page.prose.split('\n\n').length).toBe(1);
    expect(page.prose.length).toBeGreaterThan(120);
    expect(`${page.title.slice(name.length)} ${page.prose}`).not.toMatch(
      /\b(AST|node|symbol|undefined|null|tokens?|expected|identifier|parse[rds]?|invalid|boolean|string|array|syntax|keyword|variable|parameter|compiler?|boilerplate)\b/i,
    );
  });
});

describe('the pages', () => {
  it('are one for each code, and no more', () => {
    expect(allPages.map(({ name }) => name)).toEqual([...pages].sort());
  });

  it('know every code that is written in the sources', () => {
    const groups = [
      ...new Set([...Object.keys(textProblems), ...Object.keys(messages)].map((code) => code.split('.')[0])),
    ];
    const written = new RegExp(`'((?:${groups.join('|')})\\.[a-z][a-z-]*)'`, 'g');
    const sources = new URL('../../../language/src/', import.meta.url);
    const codes = readdirSync(sources, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts') && !name.includes('generated'))
      .flatMap((name) => [...readFileSync(new URL(name, sources), 'utf8').matchAll(written)].map(([, code]) => code!));
    expect([...new Set(codes)].filter((code) => !pages.has(code))).toEqual([]);
  });

  it('stand in the contents, which are current', () => {
    const text = indexText();
    expect(readFileSync(indexFile, 'utf8'), 'npm run generate writes it anew').toBe(text);
    for (const { name } of allPages) expect(text.split(`(${name}.md)`).length, name).toBe(2);
  });
});
