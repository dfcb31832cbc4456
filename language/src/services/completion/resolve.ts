/** More about one thing that is offered: looked up only when the reader stops at it. */
import type { CompletionItem } from 'vscode-languageserver-protocol';
import { docOf } from '../../grammar/file.ts';
import { builtins } from '../../semantics/types/builtins.ts';
import type { FileResult } from '../../semantics/project.ts';
import type { Workspace } from '../workspace.ts';
import type { Abilities, Subject } from './offer.ts';

export function resolveCompletion(workspace: Workspace, item: CompletionItem, can: Abilities): CompletionItem {
  const about = subjectOf(item.data);
  if (about === null) return item;
  const text = docFor(about, workspace.result(about.uri));
  if (text === undefined || text === '') return item;
  return { ...item, documentation: can.markdown ? { kind: 'markdown', value: withoutLinks(text) } : text };
}

function subjectOf(data: unknown): (Subject & { readonly uri: string }) | null {
  const { uri, is, name } = (data ?? {}) as Record<string, unknown>;
  return typeof uri === 'string' && typeof is === 'string' && typeof name === 'string'
    ? { uri, is: is as Subject['is'], name }
    : null;
}

function docFor({ is, name }: Subject, { ground, schema, outcomes }: FileResult): string | undefined {
  const { library, parts } = ground.setting;
  switch (is) {
    case 'slot':
      return schema.slots.find(({ path }) => path === name)?.doc;
    case 'mount':
      return schema.mounts.find(({ path }) => path === name)?.doc;
    case 'axis':
      return schema.axes.find((axis) => axis.name === name)?.doc;
    case 'rule': {
      const check = outcomes.flatMap(({ checks }) => checks).find(({ id }) => id === name);
      return [check?.rule?.doc, check?.because].filter((text) => text).join('\n\n');
    }
    case 'builtin':
      return builtins.get(name)?.doc;
    case 'part': {
      const found = parts.find(name);
      return found && docOf(found.item);
    }
    case 'function': {
      const found = library.functions.get(name);
      return found && docOf(found.item);
    }
    case 'component': {
      const found = library.components.get(name);
      return found && docOf(found.item);
    }
    default:
      return undefined;
  }
}

/** Text of a file is shown as text: no images, links or markup of its own. */
function withoutLinks(text: string): string {
  return text.replace(/[\\`*_[\]<>!]/g, '\\$&');
}
