// What a code stands for in a few words: what its rule says it is, else the title of its page.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { docText } from '../report/place.ts';
import { pageOf } from '../report/pages.ts';
import type { CodeTold } from '../report/sarif.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';

const folder = new URL('../../docs/problems/', import.meta.url);

/** For the codes of what was found in these builds and their texts. */
export function tellOf(outcomes: readonly Outcome[]): (code: string) => CodeTold {
  const rules = new Map(
    outcomes.flatMap(({ checks }) => checks.map(({ id, rule }) => [id, docText(rule?.doc)] as const)),
  );
  return (code) => {
    const { title, text } = pageFor(code);
    const said = rules.get(code);
    return { text: said === undefined || said === '' ? title : said, page: text };
  };
}

/** `# expect: What the build expects does not hold`, and the paragraph under it. */
function pageFor(code: string): { readonly title: string; readonly text: string } {
  const page = readFileSync(fileURLToPath(new URL(`${pageOf(code)}.md`, folder)), 'utf8');
  const [, title = code, text = ''] = /^# [^:\n]*: *([^\n]*)\n\s*([^]*?)(?:\n\n|$)/.exec(page) ?? [];
  return { title, text: text.replace(/\s+/g, ' ').trim() };
}
