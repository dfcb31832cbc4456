// What can be done at a place: computed fixes, slips of the text, another unit, a figure in place of its formula, living with a deviation.
// Titles are worked out when asked for; the edit is made, in the text as it is then, when one is taken.
import { settingsIn } from '@thou/shared/settings';
import {
  CodeActionKind,
  CodeActionRequest,
  CodeActionResolveRequest,
  type CodeAction,
  type CodeActionParams,
  type Diagnostic,
} from 'vscode-languageserver';
import { toOffset, toRange } from '../positions.ts';
import { request, type Asked, type Feature } from '../feature.ts';
import type { Workspace } from '../workspace.ts';
import { acceptingOf } from './accept.ts';
import { computedAt } from './computed.ts';
import { conversionsAt } from './convert.ts';
import type { Edit } from './edit.ts';
import { underlinedAt } from './findings.ts';
import { isSafe, titleOfSlip } from './slips.ts';
import { solvedFor } from './solved.ts';

const fixAll = `${CodeActionKind.SourceFixAll}.thou`;

/** One thing that can be done, before it is put into the words of the protocol. */
export interface Offer {
  readonly title: string;
  readonly kind: string;
  readonly edits: readonly Edit[];
  readonly code: string | null;
  readonly message: string | null;
  readonly isPreferred: boolean;
  /** What else comes of it, a line each. */
  readonly follows: readonly string[];
}

export type Breathe = () => Promise<void>;

/** All that can be done between two offsets, the best first. */
export async function offersAt(
  workspace: Workspace,
  uri: string,
  start: number,
  end: number,
  breathe: Breathe,
  isWanted: (kind: string) => boolean = () => true,
  settings = settingsIn({}),
): Promise<readonly Offer[]> {
  const source = workspace.source(uri);
  if (source === undefined || workspace.isOfLibrary(uri)) return [];
  const result = workspace.result(uri);
  const { problems, outcomes } = result;
  const offers: Offer[] = [];
  if (isWanted(CodeActionKind.QuickFix)) {
    for (const problem of problems.filter((one) => one.start <= end && start <= one.end)) {
      const { code, message } = problem;
      for (const fix of problem.fixes.filter(({ edits }) => edits.every((edit) => edit.uri === uri)))
        offers.push(offer(titleOfSlip(fix, source.text), CodeActionKind.QuickFix, fix.edits, code, message));
    }
    for (const { outcome, check, code, message } of underlinedAt(workspace, uri, start, end)) {
      const solved = settings['fixes.workedOut'] ? await solvedFor(workspace, uri, outcome, check, breathe) : [];
      if (workspace.result(uri) !== result) return [];
      for (const { title, edits, isClean, follows } of solved)
        offers.push({ ...offer(title, CodeActionKind.QuickFix, edits, code, message), isPreferred: isClean, follows });
      const accepting = settings['fixes.accept'] && acceptingOf(outcome, source, check, outcomes.length > 1);
      if (accepting && offers.every(({ title }) => title !== accepting.title))
        offers.push(offer(accepting.title, CodeActionKind.QuickFix, accepting.edits, code, message));
    }
  }
  if (isWanted(CodeActionKind.RefactorRewrite)) {
    const computed = computedAt(source, outcomes, start, end);
    const converted = settings['fixes.convert'] ? conversionsAt(source, start, end) : [];
    for (const { title, edits } of [...(computed ? [computed] : []), ...converted])
      offers.push(offer(title, CodeActionKind.RefactorRewrite, edits, null, null));
  }
  if (isWanted(fixAll)) {
    const safe = problems.filter((problem) => isSafe(problem, source.text)).map(({ fixes }) => fixes[0]!.edits);
    const edits = apart(safe);
    if (edits.length > 0)
      offers.push(offer('Put right what is certain and touches no figure', fixAll, edits, null, null));
  }
  return onePreferred(offers);
}

function offer(
  title: string,
  kind: string,
  edits: readonly Edit[],
  code: string | null,
  message: string | null,
): Offer {
  return { title, kind, edits, code, message, isPreferred: false, follows: [] };
}

/** A slip of the text with one fix goes before everything else. */
function onePreferred(offers: readonly Offer[]): readonly Offer[] {
  const slips = offers.filter(
    ({ kind, code, isPreferred }) => kind === CodeActionKind.QuickFix && code !== null && !isPreferred,
  );
  const best =
    offers.find(({ isPreferred }) => isPreferred) ??
    (slips.length === 1 && offers[0] === slips[0] ? slips[0] : undefined);
  return offers.map((one) => ({ ...one, isPreferred: one === best }));
}

/** Edits that do not touch one another. */
function apart(groups: readonly (readonly Edit[])[]): Edit[] {
  const taken: Edit[] = [];
  for (const group of groups) {
    if (group.every((edit) => taken.every((one) => edit.end < one.start || one.end < edit.start))) taken.push(...group);
  }
  return taken;
}

interface Kept {
  readonly uri: string;
  readonly start: number;
  readonly end: number;
  readonly title: string;
  readonly kind: string;
  /** All that comes of it, for editors that show more than a title. */
  readonly follows: readonly string[];
}

async function listed({ textDocument, range, context }: CodeActionParams, asked: Asked): Promise<CodeAction[]> {
  const { workspace } = asked;
  const { uri } = textDocument;
  const positions = workspace.positionsOf(uri);
  const [start, end] = [toOffset(positions, range.start), toOffset(positions, range.end)];
  const only = context.only ?? null;
  const isWanted = (kind: string): boolean =>
    only === null ? kind !== fixAll : only.some((one) => kind === one || kind.startsWith(`${one}.`) || one === '');
  const offers = await offersAt(workspace, uri, start, end, asked.breathe, isWanted, await asked.settings(uri));
  const canResolve = asked.client.textDocument?.codeAction?.resolveSupport?.properties.includes('edit') === true;
  return offers.map((one) => {
    const told = diagnosticFor(one, context.diagnostics);
    const kept: Kept = { uri, start, end, title: one.title, kind: one.kind, follows: one.follows };
    return {
      title: one.title,
      kind: one.kind,
      ...(told ? { diagnostics: [told] } : {}),
      ...(one.isPreferred ? { isPreferred: true } : {}),
      ...(canResolve ? { data: kept } : { edit: editOf(asked, uri, one) }),
    };
  });
}

function diagnosticFor({ code, message }: Offer, diagnostics: readonly Diagnostic[]): Diagnostic | undefined {
  return diagnostics.find((one) => one.code === code && one.message === message);
}

/** The text may have changed since: the same is looked for again, and left as it is where it is not offered any more. */
async function resolved(action: CodeAction, asked: Asked): Promise<CodeAction> {
  const kept = action.data as Kept | undefined;
  if (kept === undefined) return action;
  const { uri, start, end, title, kind } = kept;
  const offers = await offersAt(asked.workspace, uri, start, end, asked.breathe, (one) => one === kind);
  const found = offers.find((one) => one.title === title);
  return found ? { ...action, edit: editOf(asked, uri, found) } : action;
}

/** What comes of it stands beside the change where the editor shows a preview. */
function editOf(asked: Asked, uri: string, { edits, title, follows }: Offer): NonNullable<CodeAction['edit']> {
  const positions = asked.workspace.positionsOf(uri);
  const can = asked.client.workspace?.workspaceEdit;
  const made = edits.map((edit) => ({ range: toRange(positions, edit), newText: edit.text }));
  if (can?.documentChanges !== true) return { changes: { [uri]: made } };
  const textDocument = { uri, version: asked.versionOf(uri) };
  if (follows.length === 0 || !can.changeAnnotationSupport) return { documentChanges: [{ textDocument, edits: made }] };
  const annotated = made.map((edit) => ({ ...edit, annotationId: 'fix' }));
  return {
    documentChanges: [{ textDocument, edits: annotated }],
    changeAnnotations: { fix: { label: title, needsConfirmation: false, description: follows.join('\n') } },
  };
}

export const codeActions: Feature = {
  capability: () => ({
    codeActionProvider: {
      codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite, fixAll],
      resolveProvider: true,
    },
  }),
  requests: [request(CodeActionRequest.type, listed), request(CodeActionResolveRequest.type, resolved)],
};
