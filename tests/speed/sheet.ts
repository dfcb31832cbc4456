/** What the sheet beside the text costs after the messages of an edit, on the V8 sample: folded, with one chapter open, and all of it. */
import { readLibrary } from '../../language/src/command-line/library.ts';
import { diagnosticsOf, piecesOf } from '../../language/src/services/diagnostics.ts';
import { sheetOf } from '../../language/src/services/sheet.ts';
import type { SheetAsked } from '../../shared/src/protocol.ts';
import { samples, workspaceOf } from '../language/services/open.ts';
import { library } from '../reference/library.ts';

const edits = 20;
const uri = 'file:///tarn-427.thou';
const text = samples.get('tarn-427.thou')!;
const { cautions, drawings, sheets } = readLibrary();
const guide = { library, cautions, drawings, sheets };
const reader = { client: {}, pages: '', spelled: (one: string) => one };
const milliseconds = (time: number): string => `${time.toFixed(0)} ms`;

/** Of the processor: what else the machine does is left out. */
function worked(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

function median(figures: readonly number[]): number {
  return [...figures].sort((a, b) => a - b)[Math.floor(figures.length / 2)]!;
}

const sorts = [
  ['folded', []],
  ['one chapter open', ['chapter-block']],
  ['three chapters open', ['chapter-block', 'chapter-stack-up.thou', 'chapter-clearances.thou']],
  ['all open', null],
] as const;

console.log('| sheet of the V8 | edit to messages | messages to sheet | sent | of |\n| --- | --- | --- | --- | --- |');
for (const [name, open] of sorts) {
  const workspace = workspaceOf(samples);
  let have: Record<string, string> = {};
  const [judging, told, sent]: number[][] = [[], [], []];
  let whole = 0;
  for (let edit = 0; edit <= edits; edit++) {
    const now = text.replace('chamber: [70.1,', `chamber: [70.${(edit % 7) + 1},`);
    const begun = worked();
    workspace.open(uri, now);
    for (const piece of piecesOf(workspace, uri)) piece();
    diagnosticsOf(workspace, uri, reader);
    const judged = worked();
    const asked: SheetAsked = { textDocument: { uri }, build: null, kind: 'whole', open, have };
    const { pieces } = sheetOf(workspace, guide, asked)!;
    const written = JSON.stringify(pieces).length;
    const done = worked();
    have = Object.fromEntries(pieces.map(({ id, of }) => [id, of]));
    if (edit === 0) {
      whole = written;
      continue;
    }
    judging!.push(judged - begun);
    told!.push(done - judged);
    sent!.push(written);
  }
  const size = (bytes: number): string => `${(bytes / 1024).toFixed(0)} kB`;
  console.log(
    `| ${name} | ${milliseconds(median(judging!))} | ${milliseconds(median(told!))} | ${size(median(sent!))} | ${size(whole)} |`,
  );
}
