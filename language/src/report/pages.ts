// Which page of docs/problems tells of a code. Dots stay in the name: `name.unknown` has name.unknown.md.
import { textProblems } from '../grammar/problem.ts';
import { messages } from '../semantics/problems/messages.ts';

/** What the checks of a build find has one page a kind, whatever the rule or the figure is called. */
const kinds = ['expect', 'rule', 'to-size', 'missing'] as const;

/** Every page there is, without its ending. */
export const pages: ReadonlySet<string> = new Set([...Object.keys(textProblems), ...Object.keys(messages), ...kinds]);

/** `plate.width.to-size` leads to `to-size`; any other code that is in no list is the name of a rule. */
export function pageOf(code: string): string {
  if (pages.has(code)) return code;
  return code.endsWith('.to-size') ? 'to-size' : 'rule';
}
