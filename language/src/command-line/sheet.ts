// `thou sheet FILE`: the build sheet, for people or as the JSON contract.
import { sheetJson } from '../report/json.ts';
import { drawnAlone } from '@thou/shared/drawing/drawing';
import { drawingsOf } from '../report/drawings/drawings.ts';
import { sheetPage } from '../report/html/page.ts';
import { sheetBody } from '../report/html/sheet.ts';
import { listed } from '../report/place.ts';
import { sheetModel } from '../report/sheet.ts';
import { sheetDocument } from '../report/sheets/compose.ts';
import { sheetsCsv } from '../report/sheets/csv.ts';
import type { SheetDocument } from '../report/sheets/document.ts';
import { sheetMarkdown } from '../report/sheets/markdown.ts';
import type { SheetPlan } from '../report/sheets/plan.ts';
import { plainStyle } from '../report/style.ts';
import { sheetText } from '../report/text.ts';
import type { Style } from '../report/style.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { readLibrary } from './library.ts';
import { rootOption } from './command.ts';
import type { Command } from './command.ts';
import { buildsNamed, jobFor } from './job.ts';
import type { Job, Looked } from './job.ts';
import { jsonText } from './json-text.ts';
import { version } from './version.ts';
import { exitCode, Refusal } from './refusal.ts';
import { harmlessAll } from './terminal.ts';
import type { Output } from './terminal.ts';
import { writeFile } from './written.ts';

/** More than so many are not read at a glance. */
const fewBuilds = 6;

export const sheet: Command = {
  name: 'sheet',
  takes: 'FILE',
  summary: 'the build sheet: findings first, what is still to be measured, every figure, cautions last',
  options: [
    {
      name: 'format',
      takes: 'FORMAT',
      words: ['text', 'html', 'markdown', 'csv', 'svg', 'json'],
      text: 'for people, as a page, for a pull request, for spreadsheets, one drawing, or for programs (schema: thou-sheet-1.schema.json)',
    },
    {
      name: 'sheet',
      takes: 'SHEET',
      text: `which sheet, as html, markdown or csv: ${listed(sheetNames(), 'or')} (else: ${sheetNames()[0]})`,
    },
    { name: 'drawing', takes: 'NAME', text: 'with --format svg: which drawing; without, their names are listed' },
    { name: 'build', takes: 'NAME', text: 'only this build or variant' },
    { name: 'output', short: 'o', takes: 'FILE', text: 'write there; a file of that name is replaced' },
    rootOption,
  ],
  note: 'Sheets of several builds follow each other in one page. Printed from a browser, a page fits A4 and Letter.',
  run(args, { out, err }) {
    const [given] = args.given;
    if (given === undefined || args.given.length > 1) throw new Refusal('Name one file to make the sheet of.');
    const format = args.value('format');
    const target = args.value('output');
    const plan = planNamed(args.value('sheet'), format);
    const { job, path } = jobFor(given, args.value('root'));
    const looked = job.look(path);
    const builds = buildsNamed(looked.result.outcomes, args.value('build'), given);
    if (builds.length === 0) tellWhyEmpty(looked, given, err);
    const style = target === undefined ? out.style : plainStyle;
    const text = (): string => {
      switch (format) {
        case 'json':
          return jsonText(
            sheetJson(builds, { version: version(), edition: job.library.text.edition, files: job.files }),
          );
        case 'html':
          return htmlPage(documentsOf(builds, plan, job, looked, true));
        case 'markdown':
          return documentsOf(builds, plan, job, looked)
            .map((one) => sheetMarkdown(one))
            .join('\n');
        case 'csv':
          return sheetsCsv(documentsOf(builds, plan, job, looked));
        case 'svg':
          return drawingText(builds, job, args.value('drawing'));
        default:
          return sheetsText(builds, job, looked, style);
      }
    };
    if (target === undefined) out.write(text());
    else
      writeFile(target, text(), { source: path, holds: heldInWords(builds, format), isTable: format === 'csv', err });
    if (looked.problems.some(({ severity }) => severity === 'error')) return exitCode.findings;
    return builds.length === 0 ? exitCode.couldNotRun : exitCode.holds;
  },
};

function sheetNames(): string[] {
  return readLibrary().sheets.map(({ name }) => name);
}

/** Those formats that know one sheet only say so. */
function planNamed(name: string | undefined, format: string | undefined): SheetPlan {
  const { sheets } = readLibrary();
  const found = name === undefined ? sheets[0] : sheets.find((one) => one.name === name);
  if (!found) throw new Refusal(`There is no sheet "${name}"; there are ${listed(sheetNames())}.`);
  if (name !== undefined && !['html', 'markdown', 'csv'].includes(format ?? ''))
    throw new Refusal('The option --sheet goes with --format html, markdown or csv.');
  return found;
}

function tellWhyEmpty({ result }: Looked, given: string, err: Output): void {
  const mistakes = result.problems.filter(({ severity }) => severity === 'error').length;
  err.write(`thou: "${given}" has no build${mistakes > 0 ? ' that can be read; "thou check" tells why' : ''}.\n`);
}

/** Few builds by name, many counted. */
function heldInWords(builds: readonly Outcome[], format: string | undefined): string {
  const names = builds.map(({ binding }) => binding.name);
  if (format === 'svg') return 'one drawing';
  if (names.length === 0) return 'there is no build to make a sheet of';
  if (names.length > fewBuilds) return `the sheets of ${names.length} builds`;
  return `the ${names.length === 1 ? 'sheet' : 'sheets'} of ${listed(names)}`;
}

function mistakesIn({ result }: Looked): number {
  return result.problems.filter(({ severity }) => severity === 'error').length;
}

function sheetsText(builds: readonly Outcome[], job: Job, looked: Looked, style: Style): string {
  const { chapters, cautions, text } = job.library;
  const options = { files: job.files, chapters, cautions, edition: text.edition, mistakes: mistakesIn(looked) };
  return builds.map((outcome) => sheetText(harmlessAll(sheetModel(outcome, options)), style)).join('\n\n');
}

function documentsOf(
  builds: readonly Outcome[],
  plan: SheetPlan,
  job: Job,
  looked: Looked,
  apart = false,
): SheetDocument[] {
  const { chapters, cautions, drawings, text } = job.library;
  const options = {
    files: job.files,
    chapters,
    cautions,
    drawings,
    edition: text.edition,
    mistakes: mistakesIn(looked),
    apart,
  };
  return builds.map((outcome) => harmlessDocument(sheetDocument(outcome, plan, options)));
}

/** Drawings say nothing of a file but names. */
function harmlessDocument(sheet: SheetDocument): SheetDocument {
  const { build, title, head } = sheet;
  const parts = sheet.parts.map((part) => ({
    ...part,
    title: harmlessAll(part.title),
    blocks: () => part.blocks().map((block) => (block.is === 'drawing' ? block : harmlessAll(block))),
  }));
  return { ...sheet, ...harmlessAll({ build, title, head }), parts };
}

function htmlPage(sheets: readonly SheetDocument[]): string {
  return sheetPage(
    sheets.length === 1 ? sheets[0]!.title : sheets.map(({ build }) => build).join(', '),
    sheets.map((one) => sheetBody(one)),
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
