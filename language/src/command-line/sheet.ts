// `thou sheet FILE`: the build sheet, for people or as the JSON contract.
import { realpathSync, writeFileSync } from 'node:fs';
import { sheetJson } from '../report/json.ts';
import { drawnAlone } from '@thou/shared/drawing/drawing';
import type { SheetModel } from '@thou/shared/result/sheet';
import { drawingsOf } from '../report/drawings/drawings.ts';
import type { DrawingPlan } from '../report/drawings/plan.ts';
import { sheetPage } from '../report/html/page.ts';
import { sheetBody, sheetKinds } from '../report/html/sheet.ts';
import { listed } from '../report/place.ts';
import { sheetModel } from '../report/sheet.ts';
import { plainStyle } from '../report/style.ts';
import { sheetText } from '../report/text.ts';
import type { Style } from '../report/style.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { statOf } from './files.ts';
import { buildsNamed, jobFor } from './job.ts';
import type { Job, Looked } from './job.ts';
import { jsonText } from './json-text.ts';
import { version } from './version.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmlessAll } from './terminal.ts';
import type { Output } from './terminal.ts';

export const sheet: Command = {
  name: 'sheet',
  takes: 'FILE',
  summary: 'the build sheet: findings first, what is still to be measured, every figure, cautions last',
  options: [
    {
      name: 'format',
      takes: 'FORMAT',
      words: ['text', 'html', 'svg', 'json'],
      text: 'for people, as a page, one drawing, or for programs (schema: thou-sheet-1.schema.json)',
    },
    {
      name: 'sheet',
      takes: 'SHEET',
      words: sheetKinds,
      text: 'which sheet, as a page: all of it, what to measure with blanks, or what to order',
    },
    { name: 'drawing', takes: 'NAME', text: 'with --format svg: which drawing; without, their names are listed' },
    { name: 'build', takes: 'NAME', text: 'only this build or variant' },
    { name: 'output', short: 'o', takes: 'FILE', text: 'write there; a file of that name is replaced' },
    rootOption,
  ],
  run(args, { out, err }) {
    const [given] = args.given;
    if (given === undefined || args.given.length > 1) throw new Refusal('Name one file to make the sheet of.');
    const { job, path } = jobFor(given, args.value('root'));
    const looked = job.look(path);
    const builds = buildsNamed(looked.result.outcomes, args.value('build'), given);
    if (builds.length === 0) tellWhyEmpty(looked, given, err);
    const target = args.value('output');
    const format = args.value('format');
    const style = target === undefined ? out.style : plainStyle;
    const text =
      format === 'json'
        ? jsonText(sheetJson(builds, { version: version(), edition: job.library.text.edition, files: job.files }))
        : format === 'html'
          ? htmlPage(builds, job, looked, args.value('sheet'))
          : format === 'svg'
            ? drawingText(builds, job, args.value('drawing'))
            : sheetsText(builds, job, looked, style);
    if (target === undefined) out.write(text);
    else writeTo(target, text, path);
    return looked.problems.some(({ severity }) => severity === 'error') ? exitCode.findings : exitCode.holds;
  },
};

function tellWhyEmpty({ result }: Looked, given: string, err: Output): void {
  const mistakes = result.problems.filter(({ severity }) => severity === 'error').length;
  err.write(`thou: "${given}" has no build${mistakes > 0 ? ' that can be read; "thou check" tells why' : ''}.\n`);
}

function modelsOf(
  builds: readonly Outcome[],
  job: Job,
  { result }: Looked,
  drawings: readonly DrawingPlan[],
): SheetModel[] {
  const { chapters, cautions, text } = job.library;
  const mistakes = result.problems.filter(({ severity }) => severity === 'error').length;
  return builds.map((outcome) =>
    sheetModel(outcome, { files: job.files, chapters, cautions, drawings, edition: text.edition, mistakes }),
  );
}

function sheetsText(builds: readonly Outcome[], job: Job, looked: Looked, style: Style): string {
  return modelsOf(builds, job, looked, [])
    .map((model) => sheetText(harmlessAll(model), style))
    .join('\n\n');
}

function htmlPage(builds: readonly Outcome[], job: Job, looked: Looked, kind: string | undefined): string {
  const sheetKind = sheetKinds.find((one) => one === kind) ?? 'whole';
  const models = modelsOf(builds, job, looked, job.library.drawings);
  return sheetPage(
    models.map(({ build }) => build).join(', '),
    models.map((model) => sheetBody(model, sheetKind)),
  );
}

/** One drawing of the first build that has it. */
function drawingText(builds: readonly Outcome[], job: Job, name: string | undefined): string {
  const all = builds.flatMap((outcome) => drawingsOf(outcome, job.library.drawings));
  const names = [...new Set(all.map((one) => one.name))];
  if (names.length === 0) throw new Refusal('Nothing of this file can be drawn yet.');
  const found = all.find((one) => one.name === name);
  if (!found) throw new Refusal(`Say which drawing with --drawing: ${listed(names, 'or')}.`);
  return drawnAlone(found.drawing);
}

/** Writes the sheet, never over the file that it was made of. */
export function writeTo(target: string, text: string, source: string | null): void {
  if (/\.(thou|csv)$/i.test(target))
    throw new Refusal(`"${target}" would be written over as a file of the job; choose another ending.`);
  if (source !== null && statOf(target) && realpathSync(target) === source)
    throw new Refusal(`"${target}" is the file itself.`);
  try {
    writeFileSync(target, text);
  } catch {
    throw new Refusal(`"${target}" cannot be written.`);
  }
}
