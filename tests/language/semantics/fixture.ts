/**
 * Cases as data. A file of cases is Markdown: a heading a case, a fenced block a file (`main.thou` where none is named).
 * In a .thou block `»…«` marks where a problem is due and `‹a⇒b›` (also inside a mark: `»a⇒b«`) a place that is mended by `b`.
 * The n-th line `//! code | words of the message | title of a fix` tells what is due at the n-th mark.
 */
export interface Due {
  readonly start: number;
  readonly end: number;
  readonly code: string;
  readonly words: string;
  /** Titles of all fixes, in order; null where they are not told. */
  readonly fixes: readonly string[] | null;
}

export interface CaseFile {
  readonly name: string;
  readonly text: string;
  /** The text with every slip mended; null where nothing is marked as mended. */
  readonly mended: string | null;
  readonly due: readonly Due[];
}

export interface Case {
  readonly title: string;
  readonly topic: string;
  readonly files: readonly CaseFile[];
}

interface Marked {
  readonly text: string;
  readonly mended: string;
  readonly marks: readonly { readonly start: number; readonly end: number }[];
  readonly isMended: boolean;
}

/** Takes the marks out; every mark must close. */
function readMarks(marked: string): Marked {
  let text = '';
  let mended = '';
  let isMended = false;
  const open: { readonly sign: string; readonly start: number; readonly mendedFrom: number; readonly index: number }[] =
    [];
  const marks: { start: number; end: number }[] = [];
  let replacing: number | null = null;
  for (const sign of marked) {
    if (sign === '»' || sign === '‹') {
      open.push({ sign, start: text.length, mendedFrom: mended.length, index: marks.length });
      if (sign === '»') marks.push({ start: text.length, end: -1 });
    } else if (sign === '⇒') {
      const round = open.at(-1);
      if (!round) throw new Error(`⇒ stands outside a mark: ${marked}`);
      replacing = text.length;
      mended = mended.slice(0, round.mendedFrom);
      isMended = true;
    } else if (sign === '«' || sign === '›') {
      const round = open.pop();
      if (!round || (round.sign === '»') !== (sign === '«')) throw new Error(`a mark does not close: ${marked}`);
      if (round.sign === '»') marks[round.index]!.end = text.length;
      replacing = null;
    } else {
      if (replacing === null) text += sign;
      mended += sign;
    }
  }
  if (open.length > 0) throw new Error(`a mark is left open: ${marked}`);
  return { text, mended, marks, isMended };
}

const dueLine = /^[ \t]*\/\/! *([\w.-]+)(?: *\| *([^|\n]*?))?(?: *\| *([^|\n]*?))? *$/gm;

function caseFile(name: string, marked: string): CaseFile {
  if (!name.endsWith('.thou')) return { name, text: marked, mended: null, due: [] };
  const { text, mended, marks, isMended } = readMarks(marked);
  const told = [...marked.matchAll(dueLine)];
  if (told.length !== marks.length)
    throw new Error(`${marks.length} marks and ${told.length} lines that tell a code: ${marked}`);
  const due = marks.map((mark, i): Due => {
    const [, code = '', words = '', fixes] = told[i]!;
    return {
      ...mark,
      code,
      words,
      fixes:
        fixes === undefined
          ? null
          : fixes
              .split(';')
              .map((fix) => fix.trim())
              .filter((fix) => fix !== ''),
    };
  });
  return { name, text, mended: isMended ? mended : null, due };
}

const block = /^```(\S+)[ ]*(\S*)\n([\s\S]*?)^```$/gm;

/** Escapes for what Markdown and editors hide: `\r` line ends, a byte-order mark. */
function unescaped(body: string, kind: string): string {
  return kind === 'thou' ? body : body.replaceAll('\\r', '\r').replaceAll('\\uFEFF', '\uFEFF');
}

export function readCases(topic: string, markdown: string): Case[] {
  const parts = markdown.split(/^## /m).slice(1);
  return parts.map((part) => {
    const title = part.slice(0, part.indexOf('\n')).trim();
    const files = [...part.matchAll(block)].map(([, kind = '', name = '', body = '']) =>
      caseFile(name || `main.${kind}`, unescaped(body, kind)),
    );
    if (files.length === 0) throw new Error(`a case without a text: ${title}`);
    return { title, topic, files };
  });
}
