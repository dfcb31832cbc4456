/** One block holds one entry of the file (a part, a build …): what is left over is named once and not read. */
import { nearest } from '@thou/shared/number/nearest';
import { textError, type TextProblem } from './problem.ts';
import { endOf, itemWords, nameOf, type Token } from './tokens.ts';

/** The words of the first entry; of what stands before or behind it, one message tells. */
export function onlyEntry(tokens: readonly Token[], problems: TextProblem[]): readonly Token[] {
  const first = tokens.find((token) => nameOf(token) !== 'SEP');
  if (first === undefined) return [];
  if (!itemWords.has(nameOf(first))) {
    problems.push(unknownEntry(first));
    return [];
  }
  const end = entryEnd(tokens);
  const rest = tokens.slice(end).find((token) => nameOf(token) !== 'SEP');
  if (rest !== undefined) problems.push(itemWords.has(nameOf(rest)) ? misplacedEntry(rest) : unknownEntry(rest));
  return tokens.slice(0, end);
}

/** The place behind the entry: a separator or a closing brace outside all bodies ends it. */
function entryEnd(tokens: readonly Token[]): number {
  let depth = 0;
  for (let at = 0; at < tokens.length; at += 1) {
    const name = nameOf(tokens[at]);
    if (name === '{') depth += 1;
    else if (name === '}') depth -= 1;
    else if (name !== 'SEP') continue;
    if (depth === 0 && name !== '{' && at > 0) return at + 1;
  }
  return tokens.length;
}

function misplacedEntry(token: Token): TextProblem {
  const start = token.startOffset;
  return textError(
    'syntax.item-place',
    `${token.image} starts a line of its own, at the left edge`,
    start,
    endOf(token),
    {
      title: `Start a new line before ${token.image}`,
      edits: [{ start, end: start, text: '\n' }],
    },
  );
}

function unknownEntry(token: Token): TextProblem {
  const [start, end] = [token.startOffset, endOf(token)];
  const [word] = nearest(token.image, itemWords, 1);
  if (word !== undefined) {
    const fix = { title: `Write ${word}`, edits: [{ start, end, text: word }] };
    return textError('syntax.unknown-item', `${token.image} is not known here: is ${word} meant?`, start, end, fix);
  }
  const message = `${token.image} stands outside everything: put it inside the braces of a part, a build or a component`;
  return textError('syntax.unknown-item', message, start, end);
}
