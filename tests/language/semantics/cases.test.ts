/** Every case of cases/*.md: each problem that is due, at its place, and no other; nothing at all once it is mended. */
import { describe, expect, it } from 'vitest';
import type { Problem, Project } from '../../../language/src/semantics/project.ts';
import { cases, libraryOf, projectOf } from './check.ts';
import type { Case, CaseFile } from './fixture.ts';

/** The hint to pin an edition is a case of its own and noise in all others. */
function shown(problems: readonly Problem[], file: CaseFile): readonly Problem[] {
  const asked = file.due.some(({ code }) => code === 'use.no-edition');
  return problems.filter(({ code }) => asked || code !== 'use.no-edition');
}

const drawn = (text: string, start: number, end: number): string => {
  const line = text.slice(0, start).split('\n').length;
  return `${line}: ${JSON.stringify(text.slice(start, end))}`;
};

function found(project: Project, file: CaseFile): string[] {
  return shown(project.check(file.name).problems, file).map(
    (problem) => `${drawn(file.text, problem.start, problem.end)} ${problem.code} | ${problem.message}`,
  );
}

/** What is found, with the words that are due in place of the whole message where they stand in it. */
function asTold(project: Project, file: CaseFile): { told: string[]; seen: string[] } {
  const told = file.due.map(({ start, end, code, words }) => `${drawn(file.text, start, end)} ${code} | ${words}`);
  const left = [...file.due];
  const seen = shown(project.check(file.name).problems, file).map((problem) => {
    const match = left.findIndex(
      (due) =>
        due.code === problem.code &&
        due.start === problem.start &&
        due.end === problem.end &&
        problem.message.includes(due.words),
    );
    const words = match < 0 ? problem.message : left.splice(match, 1)[0]!.words;
    return `${drawn(file.text, problem.start, problem.end)} ${problem.code} | ${words}`;
  });
  return { told: told.sort(), seen: seen.sort() };
}

const texts = ({ files }: Case): Map<string, string> => new Map(files.map(({ name, text }) => [name, text]));
const thou = ({ files }: Case): CaseFile[] => files.filter(({ name }) => name.endsWith('.thou'));

describe.each(cases.map((one) => [`${one.topic}: ${one.title}`, one] as const))('%s', (_, one) => {
  const library = libraryOf(one.topic);

  it('says what is due and nothing else', () => {
    const project = projectOf(texts(one), library);
    for (const file of thou(one)) {
      const { told, seen } = asTold(project, file);
      expect(seen).toEqual(told);
    }
  });

  it('offers the fixes that are told, and each does away with what it is for', () => {
    const project = projectOf(texts(one), library);
    for (const file of thou(one)) {
      const problems = shown(project.check(file.name).problems, file);
      for (const due of file.due) {
        const problem = problems.find(
          ({ code, start, end }) => code === due.code && start === due.start && end === due.end,
        );
        if (due.fixes) expect(problem?.fixes.map(({ title }) => title)).toEqual(due.fixes);
        const [first] = problem?.fixes ?? [];
        if (!first) continue;
        const edits = first.edits.filter(({ uri }) => uri === file.name).sort((a, b) => b.start - a.start);
        const after = edits.reduce(
          (text, edit) => text.slice(0, edit.start) + edit.text + text.slice(edit.end),
          file.text,
        );
        const left = shown(projectOf(texts(one).set(file.name, after), library).check(file.name).problems, file);
        const alike = (all: readonly Problem[]): number =>
          all.filter(({ code, message }) => code === due.code && message === problem!.message).length;
        expect(alike(left), `${first.title} in ${after}`).toBeLessThan(alike(problems));
      }
    }
  });

  const isMended = one.files.some(({ mended }) => mended !== null);
  if (!isMended) return;
  it('says nothing once it is mended', () => {
    const mended = new Map(one.files.map(({ name, text, mended: better }) => [name, better ?? text]));
    const project = projectOf(mended, library);
    for (const { name } of thou(one)) {
      const text = mended.get(name)!;
      expect(found(project, { name, text, mended: null, due: [] }), text).toEqual([]);
    }
  });
});
