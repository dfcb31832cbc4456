/** One block of text to one entry of the tree, with its problems. Never throws; knows nothing of files or of other blocks. */
import {
  createDefaultCoreModule,
  createDefaultSharedCoreModule,
  DefaultValueConverter,
  EmptyFileSystem,
  inject,
} from 'langium';
import type {
  AstNode,
  CstNode,
  GrammarAST,
  LangiumCoreServices,
  LangiumParser,
  LangiumSharedCoreServices,
  ValueType,
} from 'langium';
import type { File, Item } from './generated/ast.ts';
import { ThouGeneratedModule, ThouGeneratedSharedModule } from './generated/module.ts';
import { BlockLexer, read, tokenBuilder, type Reading } from './lexer.ts';
import { describe, errorMessageProvider, type ParserError } from './messages.ts';
import { textError, type TextProblem } from './problem.ts';
import { plainMargin, plainNumber } from './slips.ts';
import { endOf, type Token } from './tokens.ts';
import { makeWhole } from './whole.ts';

export interface ParsedBlock {
  readonly text: string;
  /** The entry that stands in the block; undefined where there is none, or none that could be made out. */
  readonly item: Item | undefined;
  /** Offsets count from the start of the block. */
  readonly problems: readonly TextProblem[];
}

const blockOfRoot = new WeakMap<AstNode, ParsedBlock>();

/** The block that a tree was read from. */
export function blockOfTree(root: AstNode): ParsedBlock | undefined {
  return blockOfRoot.get(root);
}

class PlainValues extends DefaultValueConverter {
  protected override runConverter(rule: GrammarAST.AbstractRule, input: string, cstNode: CstNode): ValueType {
    if (rule.name === 'NUMBER') return plainNumber(input);
    if (rule.name === 'MARGIN') return plainMargin(input);
    if (rule.name === 'UNIT') return input === '"' ? 'in' : input;
    if (rule.name === 'STRING' && (input.length < 2 || !input.endsWith('"')))
      return super.runConverter(rule, `${input}"`, cstNode);
    return super.runConverter(rule, input, cstNode);
  }
}

interface Tools {
  readonly lexer: BlockLexer;
  readonly parser: LangiumParser;
}
let tools: Tools | null = null;

/** Made at the first use; made anew after a parser broke off in the middle, which leaves it in no defined state. */
function makeTools(): Tools {
  const lexer = new BlockLexer();
  const shared: LangiumSharedCoreServices = inject(
    createDefaultSharedCoreModule(EmptyFileSystem),
    ThouGeneratedSharedModule,
  );
  const services: LangiumCoreServices = inject(createDefaultCoreModule({ shared }), ThouGeneratedModule, {
    parser: {
      Lexer: () => lexer,
      TokenBuilder: () => tokenBuilder,
      ValueConverter: () => new PlainValues(),
      ParserErrorMessageProvider: () => errorMessageProvider,
    },
  });
  return { lexer, parser: services.parser.LangiumParser };
}

export function parseBlock(text: string): ParsedBlock {
  tools ??= makeTools(); // first of all: it numbers the kinds of words
  const reading = read(text);
  const problems = [...reading.problems];
  const root = reading.refused || reading.tokens.length === 0 ? undefined : parse(text, reading, problems, tools);
  const block: ParsedBlock = { text, item: root?.items[0], problems: problems.sort((a, b) => a.start - b.start) };
  if (root !== undefined) blockOfRoot.set(root, block);
  return block;
}

function parse(text: string, reading: Reading, problems: TextProblem[], { lexer, parser }: Tools): File | undefined {
  try {
    lexer.reading = reading;
    const { value, parserErrors } = parser.parse<File>(text);
    if (parserErrors.length > 0) {
      problems.push(...firstOfEachMember(parserErrors, reading));
      makeWhole(value);
    }
    return value;
  } catch (failure) {
    tools = null;
    if (!(failure instanceof RangeError)) throw failure;
    problems.push(
      textError(
        'syntax.too-deep',
        'this is nested too deep to be read: give parts of it names of their own',
        0,
        firstLine(text),
      ),
    );
    return undefined;
  }
}

/** One mistake often trips the parser more than once: of each member only the first message is kept, and none where a slip was named already. */
function firstOfEachMember(errors: readonly ParserError[], reading: Reading): TextProblem[] {
  const starts = memberStarts(reading.tokens);
  const memberOf = (offset: number): number => starts.findLastIndex((start) => start <= offset);
  const told = new Set(reading.problems.map((problem) => memberOf(problem.start)));
  const kept: TextProblem[] = [];
  for (const problem of errors.map(describe)) {
    const member = memberOf(problem.start);
    if (told.has(member)) continue;
    told.add(member);
    kept.push(problem);
  }
  return kept;
}

function memberStarts(tokens: readonly Token[]): number[] {
  const starts = [0];
  for (const token of tokens) {
    const name = token.tokenType.name;
    if (name === 'SEP' || name === '{' || name === '}') starts.push(endOf(token));
  }
  return starts;
}

function firstLine(text: string): number {
  const end = text.search(/[\r\n]/);
  return end < 0 ? text.length : end;
}
