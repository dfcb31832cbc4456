/** Checks one by one: as a list, as tests, with fixes that are looked at first, against earlier commits. */
import { commands, Disposable, Location, Position, Uri, window, type TextEditor } from 'vscode';
import { rangeOf, reveal, stretchOf, type Stretch } from '../places.ts';
import type { Server } from '../server.ts';
import { FixPreview } from './fix-preview.ts';
import { Outcomes } from './outcomes.ts';
import { compareWithCommit } from './since-commit.ts';
import { CheckTests } from './tests.ts';
import { Texts } from './texts.ts';
import { jobView, JobView } from './view.ts';

export function checks(server: Server): Disposable {
  const outcomes = new Outcomes(server);
  const texts = new Texts();
  const fixes = new FixPreview(server, texts);
  const view = new JobView(outcomes);
  return Disposable.from(
    outcomes,
    texts,
    fixes,
    view,
    new CheckTests(server, outcomes),
    commands.registerCommand('thou.showPlace', async (where?: unknown) => {
      if (isWhere(where)) await reveal(where.uri, where.range);
    }),
    commands.registerCommand('thou.showFindings', async (uri?: unknown, build?: unknown) => {
      await commands.executeCommand(`${jobView}.focus`);
      if (typeof uri === 'string' && typeof build === 'string') await view.show(uri, build);
    }),
    commands.registerCommand('thou.showUses', async (uri?: unknown, position?: unknown, places?: unknown) => {
      if (typeof uri !== 'string' || !isPlace(position) || !Array.isArray(places)) return;
      const found = places.filter(isWhere).map((one) => new Location(Uri.parse(one.uri), rangeOf(one.range)));
      const at = new Position(position.line, position.character);
      await commands.executeCommand('editor.action.showReferences', Uri.parse(uri), at, found);
    }),
    commands.registerCommand('thou.previewFix', async (node?: unknown) => {
      const where = (node as { of?: { where?: unknown } } | undefined)?.of?.where;
      if (isWhere(where)) await reveal(where.uri, where.range);
      const editor = ofThou();
      if (editor) await fixes.open(editor.document, isWhere(where) ? where.range : stretchOf(editor.selection));
    }),
    commands.registerCommand('thou.takeFix', () => fixes.take()),
    commands.registerCommand('thou.compareWithCommit', async () => {
      const editor = ofThou();
      if (editor) await compareWithCommit(server, texts, editor.document);
    }),
    commands.registerCommand('thou.measureThis', async (node?: unknown) => {
      const { uri, build, of } = (node ?? {}) as { uri?: unknown; build?: unknown; of?: { figure?: unknown } };
      await commands.executeCommand('thou.measure', { uri, build, figure: of?.figure });
    }),
  );
}

function ofThou(): TextEditor | null {
  const editor = window.activeTextEditor;
  return editor?.document.languageId === 'thou' ? editor : null;
}

/** What a command is handed is looked at before it is believed. */
function isWhere(thing: unknown): thing is { readonly uri: string; readonly range: Stretch } {
  if (typeof thing !== 'object' || thing === null) return false;
  const { uri, range } = thing as { uri?: unknown; range?: { start?: unknown; end?: unknown } };
  return typeof uri === 'string' && isPlace(range?.start) && isPlace(range?.end);
}

function isPlace(thing: unknown): thing is Stretch['start'] {
  if (typeof thing !== 'object' || thing === null) return false;
  const { line, character } = thing as { line?: unknown; character?: unknown };
  return typeof line === 'number' && typeof character === 'number';
}
