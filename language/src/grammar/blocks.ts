/** Cuts a text into blocks, one entry each: an entry begins with one of its words at the left edge, outside comments. Looks at nothing else. */
import { lineAboveEnd, lineStart } from './positions.ts';
import { itemWords } from './tokens.ts';

const BREAKS = new RegExp(
  [
    '(?<=[0-9.])"', // an inch mark begins no text
    '"(?:[^"\\\\\\r\\n]|\\\\[^\\r\\n])*"?',
    '//[^\\r\\n]*',
    '/\\*',
    `(?<=^|[\\r\\n\\uFEFF])(?:${[...itemWords].join('|')})(?![\\w-])`,
  ].join('|'),
  'g',
);

/** Offsets at which the blocks begin; the first is `from`, where the text itself begins. */
export function blockStarts(text: string, from: number): number[] {
  const starts: number[] = [];
  BREAKS.lastIndex = from;
  for (let found = BREAKS.exec(text); found !== null; found = BREAKS.exec(text)) {
    if (found[0] === '/*') {
      const close = text.indexOf('*/', found.index + 2);
      if (close < 0) break;
      BREAKS.lastIndex = close + 2;
    } else if (/^[a-z]/.test(found[0])) {
      starts.push(withDocumentation(text, found.index, starts.at(-1) ?? from));
    }
  }
  // what stands before the first entry belongs to it
  starts[0] = from;
  return starts;
}

/** The start of the `///` lines at the left edge right above an entry, or of the entry itself. */
function withDocumentation(text: string, entry: number, least: number): number {
  let start = entry;
  while (start > least) {
    const line = lineStart(text, lineAboveEnd(text, start), least);
    if (!text.startsWith('///', line)) break;
    start = line;
  }
  return start;
}
