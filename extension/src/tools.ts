/** Tools that a language model may use: they only read, and the server answers. Nothing is registered in an editor that knows no such tools. */
import { toolMethod, type ToolAsked, type ToolTold } from '@thou/shared/protocol';
import {
  l10n,
  LanguageModelTextPart,
  LanguageModelToolResult,
  lm,
  window,
  type Disposable,
  type LanguageModelTool,
} from 'vscode';
import type { Server } from './server.ts';

const tools = ['thou_check', 'thou_explain', 'thou_to_measure', 'thou_solve'] as const;

export function registerTools(server: Server): Disposable[] {
  // some builds of the editor leave the whole of it out
  const can = (lm as Partial<typeof lm> | undefined)?.registerTool !== undefined;
  return can ? tools.map((name) => lm.registerTool(name, toolOf(name, server))) : [];
}

function toolOf(tool: string, server: Server): LanguageModelTool<unknown> {
  return {
    prepareInvocation: () => ({ invocationMessage: l10n.t('Reading builds') }),
    async invoke({ input }) {
      const editor = window.activeTextEditor;
      const active = editor?.document.languageId === 'thou' ? editor.document.uri.toString() : null;
      const asked: ToolAsked = { tool, input, active };
      const told = await server.ask<ToolTold>(toolMethod, asked);
      const text = told?.text ?? l10n.t('The language server of Thou does not answer.');
      return new LanguageModelToolResult([new LanguageModelTextPart(text)]);
    },
  };
}
