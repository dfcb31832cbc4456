// Fixes of a place with the text as it would be: to be looked at before one is taken.
import { CodeActionKind } from 'vscode-languageserver-protocol';
import { fixesMethod, type FixesAsked, type FixTold } from '@thou/shared/protocol-checks';
import { offersAt } from '../code-actions/code-actions.ts';
import { applied } from '../code-actions/edit.ts';
import { request, type Feature } from '../feature.ts';
import { toOffset, toRange } from '../positions.ts';

export const fixesFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<FixesAsked, FixTold[]>(
      { method: fixesMethod },
      async ({ textDocument: { uri }, range }, { workspace, breathe }) => {
        const positions = workspace.positionsOf(uri);
        const [start, end] = [toOffset(positions, range.start), toOffset(positions, range.end)];
        const isFix = (kind: string): boolean => kind === CodeActionKind.QuickFix;
        const offers = await offersAt(workspace, uri, start, end, breathe, isFix);
        const { text } = workspace.source(uri)!;
        return offers.map(({ title, follows, edits }) => ({
          title,
          follows,
          edits: edits.map((edit) => ({ range: toRange(positions, edit), newText: edit.text })),
          text: applied(text, edits),
        }));
      },
    ),
  ],
};
