// Doc comments as paragraphs: labelled ones such as `Source:` apart, blocks of code as they are.
import { capitalised } from '../place.ts';
import type { Paragraph } from './model.ts';

const fence = /^\s*```/;
const labelled = /^\s*([A-Z][a-z]+): +(.*)$/;

/** `labels`: what counts as a label at the beginning of a line; any other word with a colon is a sentence. */
const labels: ReadonlySet<string> = new Set(['Source', 'Formula', 'Practice', 'Model', 'Caution']);

interface Draft {
  readonly label: string | null;
  readonly lines: string[];
  readonly isCode: boolean;
}

/** Beside a formula that is written out, what the comment calls one is the same in words. */
export function labelWords(label: string): string {
  return label === 'Formula' ? 'In words' : label;
}

export function paragraphsOf(doc: string | undefined): Paragraph[] {
  const found: Draft[] = [];
  let open = null as Draft | null;
  const begin = (label: string | null, isCode: boolean): Draft => {
    const one: Draft = { label, lines: [], isCode };
    found.push(one);
    return one;
  };
  for (const line of (doc ?? '').split('\n')) {
    if (fence.test(line)) open = open?.isCode ? null : begin(null, true);
    else if (open?.isCode) open.lines.push(line);
    else if (line.trim() === '') open = null;
    else {
      const [, label, rest] = labelled.exec(line) ?? [];
      const starts = label !== undefined && labels.has(label);
      if (starts) open = begin(label, false);
      open ??= begin(null, false);
      open.lines.push(starts ? rest! : line.trim());
    }
  }
  return found.map(({ label, lines, isCode }) => ({ label, isCode, text: lines.join(isCode ? '\n' : ' ') }));
}

/** The remarks at the head of a file, without the line that gives its title. */
export function introOf(text: string): Paragraph[] {
  const lines: string[] = [];
  for (const line of text.split(/\r?\n/)) {
    const [, remark] = /^\/\/(?!\/) ?(.*)$/.exec(line) ?? [];
    if (remark === undefined) break;
    lines.push(remark);
  }
  const first = /^(?:Chapters? [\d ,and-]+, )?[^:\n]{3,60}: *(.*)$/.exec(lines[0] ?? '')?.[1];
  const rest = first === undefined ? lines : [first, ...lines.slice(1)];
  return paragraphsOf(capitalised(rest.join('\n')));
}
