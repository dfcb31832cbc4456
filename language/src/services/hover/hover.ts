/** Hover: what the word or figure under the cursor is, in the build that it stands in; what is declared where it stands in none. */
import { settingsIn, type SettingValues } from '@thou/shared/settings';
import type { AstNode } from 'langium';
import type { Hover } from 'vscode-languageserver-types';
import { blockRootOf, docOf, isWritten } from '../../grammar/file.ts';
import type * as ast from '../../grammar/generated/ast.ts';
import { docText, placeInWords, sourceLine, textOf } from '../../report/place.ts';
import { cellsGivenBy } from '../../report/written-cell.ts';
import type { Outcome } from '../../semantics/plan/outcome.ts';
import type { FileResult } from '../../semantics/project.ts';
import { envOf } from '../../semantics/schema/build.ts';
import { builtins } from '../../semantics/types/builtins.ts';
import { typeWords } from '../../semantics/types/words.ts';
import { meaningOf, wordAt, type Meaning, type Word } from '../meaning.ts';
import { toRange } from '../positions.ts';
import type { Workspace } from '../workspace.ts';
import { placesMeant } from './cells.ts';
import { figurePieces } from './figure.ts';
import { optionPieces, valuePieces } from './option.ts';
import { docPieces, written, type Piece } from './page.ts';
import { quantityPieces, unitPieces } from './quantity.ts';

export function hoverAt(
  workspace: Workspace,
  uri: string,
  offset: number,
  markdown = true,
  settings = settingsIn({}),
): Hover | null {
  const word = wordAt(workspace, uri, offset);
  if (!word) return null;
  const pieces = piecesOf({ workspace, result: workspace.result(uri), settings }, word);
  if (pieces.length === 0) return null;
  return { contents: written(pieces, markdown), range: toRange(workspace.positionsOf(uri), word.at) };
}

interface Asked {
  readonly workspace: Workspace;
  readonly result: FileResult;
  readonly settings: SettingValues;
}

function piecesOf(asked: Asked, { field, at }: Word): Piece[] {
  const { workspace, result } = asked;
  const { node, property } = field;
  if (node.$type === 'Quantity' && property === 'number')
    return [...cellPieces(asked, node), ...(quantityPieces(node as ast.Quantity, result) ?? [])];
  const option = optionPieces(node);
  if (option.length > 0) return option;
  const meaning = meaningOf(workspace, result, field, at);
  if (!meaning) return [];
  if (meaning.is === 'unit' && !meaning.declares)
    return [...unitPieces(meaning.name, node, result), ...docOfDeclared(meaning)];
  return meaning.is === 'slot' ? slotPieces(asked, meaning) : declaredPieces(workspace, result, meaning);
}

/** Inside a list: the cell that the figure is given to, in its build. */
function cellPieces({ workspace, result: { outcomes }, settings }: Asked, at: AstNode): Piece[] {
  const item = blockRootOf(at).item;
  const outcome = outcomes.find(({ binding }) => binding.origin.at === item);
  const given = outcome && cellsGivenBy(outcome, at);
  return given ? figurePieces(outcome, given.one, given.cells, { files: workspace.files, settings }) : [];
}

function slotPieces({ workspace, result, settings }: Asked, meaning: Meaning): Piece[] {
  const pieces: Piece[] = [];
  const outcome = outcomeRound(result, meaning);
  const one = outcome?.slots.find(({ slot }) => slot.id === meaning.slot);
  if (outcome && one) {
    const places = placesMeant(outcome, one, meaning.field.node);
    pieces.push(...figurePieces(outcome, one, places, { files: workspace.files, settings }));
    if (!isInside(outcome, meaning)) pieces.push({ is: 'text', text: `In the build ${outcome.binding.name}.` });
  } else pieces.push(...declarationHead(workspace, result, meaning), ...formulaText(meaning));
  return [...pieces, ...docOfDeclared(meaning)];
}

/** Where there is no build, the formula as it is written. */
function formulaText({ declared, declares }: Meaning): Piece[] {
  const text = declares || declared?.at.$type !== 'Derive' ? null : textOf((declared.at as ast.Derive).value);
  return text === null ? [] : [{ is: 'figures', lines: [`= ${text}`] }];
}

/** The build that the word stands in; elsewhere the first one of the file. */
function outcomeRound(result: FileResult, meaning: Meaning): Outcome | undefined {
  const here = result.outcomes.find((outcome) => isInside(outcome, meaning));
  // "was" in a variant is the figure of what it starts from
  const base = isWas(meaning) ? result.outcomes.find(({ binding }) => binding === here?.binding.base) : undefined;
  return base ?? here ?? result.outcomes[0];
}

function isWas({ field: { node } }: Meaning): boolean {
  return node.$type === 'RefStep' && (node as ast.RefStep).name === 'was';
}

function isInside({ binding }: Outcome, { field }: Meaning): boolean {
  return blockRootOf(field.node).item === binding.origin.at;
}

function declaredPieces(workspace: Workspace, result: FileResult, meaning: Meaning): Piece[] {
  if (meaning.is === 'builtin') {
    const builtin = builtins.get(meaning.name);
    return builtin
      ? [
          { is: 'head', name: builtin.call, rest: '' },
          { is: 'text', text: builtin.doc },
        ]
      : valuePieces(meaning.name);
  }
  if (meaning.is === 'file') return [{ is: 'head', name: workspace.files.nameOf(meaning.uri ?? ''), rest: '' }];
  return [...declarationHead(workspace, result, meaning), ...demandText(meaning), ...docOfDeclared(meaning)];
}

/** What a rule asks for. */
function demandText({ is, declared, declares }: Meaning): Piece[] {
  const rule = is === 'rule' && !declares ? (declared?.at as ast.Rule | undefined) : undefined;
  const expects = rule?.clauses.filter((clause): clause is ast.Expect => clause.$type === 'Expect') ?? [];
  return expects.map(({ value }) => ({ is: 'figures', lines: [`expect ${textOf(value) ?? ''}`] }));
}

/** What it is, and where it is declared. */
function declarationHead(workspace: Workspace, result: FileResult, meaning: Meaning): Piece[] {
  const { declared } = meaning;
  const place = declared && !meaning.declares ? placeInWords(workspace.files.placeOf(declared)) : '';
  return [
    { is: 'head', name: meaning.name, rest: sortWords(result, meaning) },
    ...(place === '' ? [] : [{ is: 'text', text: `Declared in ${place}.` } as const]),
  ];
}

function sortWords(result: FileResult, meaning: Meaning): string {
  const { setting } = result.ground;
  const [thing] = meaning.things;
  switch (meaning.is) {
    case 'slot': {
      const slot = thing?.is === 'slot' ? thing.draft.slots[thing.slot] : undefined;
      const how = slot?.sort === 'derive' ? 'worked out' : 'figure';
      return slot ? `${how}: ${typeWords(slot.type, envOf(result.ground.draft, 0, result.uri, setting))}` : how;
    }
    case 'mount':
      return thing?.is === 'mount'
        ? `part: ${thing.draft.mounts[thing.mount]?.component ?? ''}${fittedWords(outcomeRound(result, meaning), thing.mount)}`
        : 'part';
    case 'part':
      return `part: ${(meaning.declared?.at as ast.Part | undefined)?.kind ?? ''}`;
    case 'axis':
    case 'label': {
      const axis = thing?.is === 'axis' || thing?.is === 'label' ? thing.draft.axes[thing.axis] : undefined;
      if (meaning.is === 'label') return `place on ${axis?.name ?? 'an axis'}`;
      return axis?.labels ? `axis: ${axis.labels.join(', ')}` : 'axis';
    }
    case 'local':
      return thing?.is === 'local'
        ? `in this formula: ${typeWords(thing.type.value, envOf(result.ground.draft, 0, result.uri, setting))}`
        : 'in this formula';
    case 'function':
      return `function: ${signatureOf(meaning)}`;
    case 'measure':
      return 'sort of quantity';
    case 'rule':
      return `rule: ${(meaning.declared?.at as ast.Rule | undefined)?.severity ?? ''}`;
    case 'choice':
      return choiceWords(meaning);
    default:
      return meaning.is;
  }
}

/** The parts put there in this build, each once. */
function fittedWords(outcome: Outcome | undefined, mount: number): string {
  const names: string[] = [];
  for (let at = outcome?.binding; at; at = at.base ?? undefined)
    names.push(...at.parts.filter((one) => one.mount === mount && !names.includes(one.part)).map(({ part }) => part));
  return names.length === 0 ? '' : `, fitted: ${[...new Set(names)].join(', ')}`;
}

function choiceWords({ declared, name }: Meaning): string {
  const others = declared?.at.$type === 'Type' ? (declared.at as ast.Type).choices.filter((one) => one !== name) : [];
  return others.length === 0 ? 'choice' : `choice; the others: ${others.join(', ')}`;
}

function signatureOf({ declared, name }: Meaning): string {
  const item = declared?.at as ast.FunctionDeclaration | undefined;
  const parameters = (item?.parameters ?? []).map((parameter) => textOf(parameter) ?? parameter.name);
  return `${name}(${parameters.join(', ')}): ${textOf(item?.type) ?? ''}`;
}

function docOfDeclared({ declared }: Pick<Meaning, 'declared'>): Piece[] {
  const doc = declared && isWritten(declared.at) ? docOf(declared.at) : undefined;
  return docPieces(doc, docText, sourceLine(doc));
}
