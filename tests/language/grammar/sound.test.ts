/** The parser that is shipped does not look its grammar over at every start: this test does so instead. */
import { createDefaultCoreModule, createDefaultSharedCoreModule, EmptyFileSystem, inject } from 'langium';
import type { LangiumCoreServices, LangiumSharedCoreServices } from 'langium';
import { expect, it } from 'vitest';
import { ThouGrammar } from '../../../language/src/grammar/generated/grammar.ts';
import {
  ThouGeneratedModule,
  ThouGeneratedSharedModule,
  ThouLanguageMetaData,
} from '../../../language/src/grammar/generated/module.ts';
import { BlockLexer, tokenBuilder } from '../../../language/src/grammar/lexer.ts';

const parserOf = (grammar: LangiumCoreServices['Grammar']): unknown => {
  const shared: LangiumSharedCoreServices = inject(
    createDefaultSharedCoreModule(EmptyFileSystem),
    ThouGeneratedSharedModule,
  );
  const services: LangiumCoreServices = inject(createDefaultCoreModule({ shared }), ThouGeneratedModule, {
    Grammar: () => grammar,
    LanguageMetaData: () => ({ ...ThouLanguageMetaData, mode: 'development' }) as const,
    parser: { Lexer: () => new BlockLexer(), TokenBuilder: () => tokenBuilder },
  });
  return services.parser.LangiumParser;
};

it('nothing is wrong with the grammar itself', () => {
  const grammar = ThouGrammar();
  expect(ThouLanguageMetaData.mode).toBe('production');
  expect(() => parserOf(grammar)).not.toThrow();
});

it('a rule that begins with itself would be found', () => {
  const grammar = ThouGrammar();
  const rule = grammar.rules.find(({ name }) => name === 'Build')!;
  const { definition: group } = rule as unknown as { readonly definition: { readonly elements: unknown[] } };
  group.elements.unshift({ $type: 'RuleCall', rule: { ref: rule }, arguments: [], $container: group });
  expect(() => parserOf(grammar)).toThrow(/eft [Rr]ecursion/);
});
