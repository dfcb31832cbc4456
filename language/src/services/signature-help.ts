/** What a call takes, while its brackets are typed: functions of the language and of the files, and curves. Works on half-written text, since it looks at signs and not at trees. */
import type { SignatureHelp, SignatureInformation } from 'vscode-languageserver-types';
import { docOf } from '../grammar/file.ts';
import { scan } from '../grammar/scanner.ts';
import { endOf, nameOf as tokenName } from '../grammar/tokens.ts';
import { docText, textOf } from '../report/place.ts';
import { nameOf } from '@thou/shared/dimension/types';
import { builtins } from '../semantics/types/builtins.ts';
import type { FileResult } from '../semantics/project.ts';
import { meaningAt } from './meaning.ts';
import type { Workspace } from './workspace.ts';

export function signatureHelpAt(workspace: Workspace, uri: string, offset: number): SignatureHelp | null {
  const call = callRound(workspace, uri, offset);
  if (!call) return null;
  const signatures = signaturesOf(workspace, uri, call);
  if (signatures.length === 0) return null;
  const most = Math.max(0, ...signatures.map(({ parameters }) => (parameters?.length ?? 1) - 1));
  return { signatures, activeSignature: 0, activeParameter: Math.min(call.argument, most) };
}

interface Call {
  readonly name: string;
  /** The end of the name, in the file. */
  readonly at: number;
  readonly argument: number;
}

/** The innermost bracket that is open at the offset and has a name right before it. */
function callRound(workspace: Workspace, uri: string, offset: number): Call | null {
  const block = workspace.source(uri)?.blocks.findLast((one) => one.offset <= offset);
  if (!block) return null;
  const open: { name: string | null; at: number; argument: number }[] = [];
  let before: { name: string; end: number } | null = null;
  for (const token of scan(block.parsed.text).tokens) {
    if (token.startOffset >= offset - block.offset) break;
    const sort = tokenName(token);
    if (sort === '(') {
      const isCall = before?.end === token.startOffset;
      open.push({ name: isCall ? before!.name : null, at: block.offset + token.startOffset, argument: 0 });
    } else if (sort === '[' || sort === '{') open.push({ name: null, at: 0, argument: 0 });
    else if (sort === ')' || sort === ']' || sort === '}') open.pop();
    else if (sort === ',' || (sort === 'over' && open.at(-1)?.name)) {
      const innermost = open.at(-1);
      if (innermost) innermost.argument += 1;
    }
    before = /^[A-Za-z_]/.test(token.image) ? { name: token.image, end: endOf(token) } : null;
  }
  const innermost = open.at(-1);
  return innermost?.name ? { name: innermost.name, at: innermost.at, argument: innermost.argument } : null;
}

function signaturesOf(workspace: Workspace, uri: string, { name, at }: Call): SignatureInformation[] {
  const result = workspace.result(uri);
  const builtin = builtins.get(name);
  if (builtin) return builtin.call.split(/ {2,}/).map((form) => signature(form, builtin.doc));
  const declared = result.ground.setting.library.functions.get(name);
  if (declared) {
    const parameters = declared.item.parameters.map((one) => textOf(one) ?? one.name);
    return [
      signature(
        `${name}(${parameters.join(', ')})`,
        docText(docOf(declared.item)),
        `: ${textOf(declared.item.type) ?? ''}`,
      ),
    ];
  }
  return curveSignature(workspace, uri, at, name, result);
}

/** A curve takes a figure for each quantity it is given against. */
function curveSignature(
  workspace: Workspace,
  uri: string,
  at: number,
  name: string,
  result: FileResult,
): SignatureInformation[] {
  const thing = meaningAt(workspace, uri, at)?.things[0] ?? namedAnywhere(name, result);
  const slot = thing?.is === 'slot' ? thing.draft.slots[thing.slot] : undefined;
  if (slot?.type.is !== 'curve') return [];
  const { measures } = result.ground.setting.library;
  const against = slot.type.against.map((measure) => nameOf(measure, measures));
  return [signature(`${name}(${against.join(', ')})`, docText(slot.doc), `: ${nameOf(slot.type.result, measures)}`)];
}

/** A formula that is not finished has no names yet: the only figure of this name will do. */
function namedAnywhere(name: string, { ground: { schema } }: FileResult) {
  const slot = schema.slots.find((one) => one.name === name && one.type.is === 'curve');
  return slot ? ({ is: 'slot', draft: schema, slot: slot.id } as const) : undefined;
}

function signature(form: string, documentation: string, tail = ''): SignatureInformation {
  const inside = form.slice(form.indexOf('(') + 1, -1);
  const parameters: { label: [number, number] }[] = [];
  let start = form.indexOf('(') + 1;
  for (const part of inside.split(/, | over /)) {
    const from = form.indexOf(part, start);
    if (part !== '') parameters.push({ label: [from, from + part.length] });
    start = from + part.length;
  }
  return { label: form + tail, documentation, parameters };
}
