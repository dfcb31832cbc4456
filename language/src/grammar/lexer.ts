/** The way from a block's text to what the parser reads: words, slips mended, brackets mended, one entry, limits, separators. */
import type { Lexer, LexerResult, TokenBuilder } from 'langium';
import { onlyEntry } from './entry.ts';
import { nestedTooDeep, tooMuch } from './limits.ts';
import { mendBrackets } from './mending.ts';
import type { TextProblem } from './problem.ts';
import { scan } from './scanner.ts';
import { separate } from './separators.ts';
import { mendSlips } from './slips.ts';
import { kinds, type Token } from './tokens.ts';

export interface Reading {
  readonly tokens: readonly Token[];
  readonly problems: TextProblem[];
  /** Nested too deep or too long for the parser. */
  readonly refused: boolean;
}

export function read(text: string): Reading {
  const { tokens, problems } = scan(text);
  const tooDeep = nestedTooDeep(tokens);
  if (tooDeep !== null) return refusal(problems, tooDeep);
  const separated = separate(mendBrackets(mendSlips(text, tokens, problems), problems));
  const tooMuchInOne = tooMuch(separated);
  if (tooMuchInOne !== null) return refusal(problems, tooMuchInOne);
  return { tokens: onlyEntry(separated, problems), problems, refused: false };
}

function refusal(problems: readonly TextProblem[], why: TextProblem): Reading {
  return { tokens: [], problems: [...problems, why], refused: true };
}

/** Langium's parser asks its lexer for the words; they were read already, and mended perhaps. */
export class BlockLexer implements Lexer {
  readonly definition = Object.fromEntries(kinds);
  tokens: readonly Token[] = [];

  tokenize(): LexerResult {
    return { tokens: [...this.tokens], hidden: [], errors: [] };
  }
}

/** The kinds of words as they were made once, see tokens.ts. */
export const tokenBuilder: TokenBuilder = { buildTokens: () => [...kinds.values()] };
