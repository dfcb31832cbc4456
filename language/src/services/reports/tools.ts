// Questions of language models: which file, which build, which figure is looked at before it is believed; the answer is a text of a bounded size.
// Nothing is changed by them, and no file is read that the editor does not show as one of ours.
import { toolMethod, type ReportAnswer, type ReportAsked, type ToolAsked, type ToolTold } from '@thou/shared/protocol';
import { request, type Asked, type Feature } from '../feature.ts';
import type { Workspace } from '../workspace.ts';
import { reportOf } from './report.ts';

/** In characters: what a model can still make something of. */
const longest = 20_000;

export const toolFeature: Feature = {
  capability: () => ({}),
  requests: [request<ToolAsked, ToolTold>({ method: toolMethod }, answerOf)],
};

async function answerOf({ tool, input, active }: ToolAsked, asked: Asked): Promise<ToolTold> {
  const told = isRecord(input) ? input : {};
  const file = fileNamed(asked.workspace, wordIn(told, 'file'), active);
  if ('problem' in file) return { text: file.problem };
  const question = questionOf(tool, file.uri, told);
  if ('problem' in question) return { text: question.problem };
  await asked.breathe();
  const steps = (await asked.settings(file.uri))['explanation.steps'];
  return { text: textOf(reportOf(asked.workspace, asked.guide, question, steps)) };
}

function textOf(answer: ReportAnswer): string {
  if ('problem' in answer) return answer.problem;
  const { text } = answer;
  if (text.length <= longest) return text;
  const kept = text.slice(0, text.lastIndexOf('\n', longest) + 1);
  return `${kept}${text.slice(kept.length).split('\n').length - 1} more lines are left out.\n`;
}

function questionOf(
  tool: string,
  uri: string,
  input: Readonly<Record<string, unknown>>,
): ReportAsked | { readonly problem: string } {
  const about = { textDocument: { uri }, build: wordIn(input, 'build') };
  switch (tool) {
    case 'thou_check':
      return { ...about, sort: 'findings' };
    case 'thou_explain': {
      const figure = wordIn(input, 'figure');
      if (figure === null) return { problem: 'Say which figure: "figure": "plate.length".' };
      return { ...about, sort: 'explanation', figure };
    }
    case 'thou_to_measure':
      return { ...about, sort: 'toMeasure' };
    case 'thou_solve':
      return { ...about, sort: 'ways', goals: wordsIn(input, 'goals'), turn: wordsIn(input, 'turn') };
    default:
      return { problem: `There is no tool "${tool}".` };
  }
}

/** One of the files that are known, by its address or by the end of its path; the one that shows, where none is named. */
function fileNamed(
  workspace: Workspace,
  name: string | null,
  active: string | null,
): { readonly uri: string } | { readonly problem: string } {
  const own = workspace.known().filter((uri) => uri.endsWith('.thou') && !workspace.isOfLibrary(uri));
  if (name === null) {
    if (active !== null && workspace.isKnown(active)) return { uri: active };
    return own.length === 1 ? { uri: own[0]! } : { problem: `Say which file: ${namesOf(workspace, own)}.` };
  }
  const wanted = name.replaceAll('\\', '/').replace(/^\.\//, '');
  const found = own.filter((uri) => uri === wanted || `/${workspace.files.nameOf(uri)}`.endsWith(`/${wanted}`));
  if (found.length === 1) return { uri: found[0]! };
  const many = found.length === 0 ? `There is no file "${name}"` : `"${name}" could be several files`;
  return { problem: `${many}; there are ${namesOf(workspace, found.length === 0 ? own : found)}.` };
}

const mostNames = 20;

function namesOf(workspace: Workspace, uris: readonly string[]): string {
  const names = uris.slice(0, mostNames).map((uri) => workspace.files.nameOf(uri));
  const more = uris.length - names.length;
  return names.length === 0 ? 'none' : `${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function wordIn(input: Readonly<Record<string, unknown>>, key: string): string | null {
  const value = Object.hasOwn(input, key) ? input[key] : null;
  return typeof value === 'string' && value.trim() !== '' ? value.trim() : null;
}

function wordsIn(input: Readonly<Record<string, unknown>>, key: string): readonly string[] {
  const value = Object.hasOwn(input, key) ? input[key] : null;
  const all: readonly unknown[] = Array.isArray(value) ? value : [value];
  return all.filter((one) => typeof one === 'string').filter((one) => one.trim() !== '');
}
