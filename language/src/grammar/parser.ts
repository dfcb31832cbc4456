/** One block of text to one entry of the tree, with its problems. Never throws; knows nothing of files or of other blocks. */
import {
  createDefaultCoreModule,
  createDefaultSharedCoreModule,
  createParser,
  DefaultValueConverter,
  EmptyFileSystem,
  inject,
  LangiumParser,
} from 'langium';
import type { AstNode, CstNode, GrammarAST, LangiumCoreServices, LangiumSharedCoreServices, ValueType } from 'langium';
import type { File, Item, Quantity } from './generated/ast.ts';
import { ThouGeneratedModule, ThouGeneratedSharedModule } from './generated/module.ts';
import { BlockLexer, read, tokenBuilder, type Reading } from './lexer.ts';
import { errorMessageProvider } from './messages.ts';
import { textError, type TextProblem } from './problem.ts';
import { lineEnd } from './positions.ts';
import { repair } from './repair.ts';
import { STAND_IN } from './tokens.ts';
import { Told } from './told.ts';
import { plainUnit } from './habits.ts';
import { plainMargin, plainNumber } from './slips.ts';

export interface ParsedBlock {
  readonly text: string;
  /** The entry that stands in the block; undefined where there is none, or none that could be made out. */
  readonly item: Item | undefined;
  /** Offsets count from the start of the block. */
  readonly problems: readonly TextProblem[];
  /** Where it is an earlier block with another figure in it: that block, which is not held on to, and the figure. */
  readonly before?: { readonly block: WeakRef<ParsedBlock>; readonly figure: Quantity };
}

const blockOfRoot = new WeakMap<AstNode, ParsedBlock>();

/** The block that a tree was read from. */
export function blockOfTree(root: AstNode): ParsedBlock | undefined {
  return blockOfRoot.get(root);
}

/** For a tree that was not read here. */
export function keepBlock(root: AstNode, block: ParsedBlock): void {
  blockOfRoot.set(root, block);
}

class PlainValues extends DefaultValueConverter {
  protected override runConverter(rule: GrammarAST.AbstractRule, input: string, cstNode: CstNode): ValueType {
    if (rule.name === 'NUMBER') return plainNumber(input);
    if (rule.name === 'MARGIN') return plainMargin(input);
    if (rule.name === 'UNIT') return plainUnit(input);
    if (input === STAND_IN) return rule.name === 'ID' ? 'unknown' : 'this line is not finished'; // see repair.ts
    if (rule.name === 'STRING' && (input.length < 2 || !input.endsWith('"')))
      return super.runConverter(rule, `${input}"`, cstNode);
    return super.runConverter(rule, input, cstNode);
  }
}

interface Inside {
  construct(): unknown;
  readonly nodeBuilder: { addHiddenNodes(tokens: readonly unknown[]): void };
}

/**
 * Langium's parser with two of its habits mended. An expression broken off before its first part comes out as nothing, which it takes for a second
 * failure and loses count of its open nodes. And it looks for the place of comments at every word, among all the siblings of a node: a list of
 * n entries costs n² although no comment is ever handed over here.
 */
function soundParser(services: LangiumCoreServices): LangiumParser {
  const parser = new LangiumParser(services);
  const inside = parser as unknown as Inside;
  const construct = inside.construct.bind(parser);
  inside.construct = (): unknown => construct() ?? (parser.isRecording() ? undefined : { $type: 'Ref', steps: [] });
  inside.nodeBuilder.addHiddenNodes = () => {};
  return createParser(services.Grammar, parser, services.parser.Lexer.definition);
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
      ParserConfig: () => ({ recoveryEnabled: false }),
      ParserErrorMessageProvider: () => errorMessageProvider,
      LangiumParser: soundParser,
    },
  });
  const parser = services.parser.LangiumParser;
  parser.finalize();
  return { lexer, parser };
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

/** After so many mistakes in one entry the rest of it is not looked at any more. */
const MOST_REPAIRS = 25;

function parse(text: string, reading: Reading, problems: TextProblem[], { lexer, parser }: Tools): File | undefined {
  const told = new Told(text, reading.problems);
  lexer.tokens = reading.tokens;
  try {
    for (let repairs = 0; repairs < MOST_REPAIRS; repairs += 1) {
      const { value, parserErrors } = parser.parse<File>(text);
      const [error] = parserErrors;
      if (error === undefined) return value;
      const { problem, start, end, tokens } = repair(lexer.tokens, error);
      if (told.adds(start, end)) problems.push(problem);
      lexer.tokens = tokens;
    }
  } catch {
    tools = null;
    const message = 'this could not be read as a whole: it is nested too deep, or too much of it is missing';
    problems.push(textError('syntax.too-deep', message, 0, lineEnd(text, 0)));
  }
  return undefined;
}
