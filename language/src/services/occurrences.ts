/** Every place where one thing is named: in one file, or in all that could name it. */
import { nodesIn, type Field } from '../grammar/file.ts';
import type { AstNode } from 'langium';
import type { TextPlace } from '../semantics/problems/places.ts';
import { Places } from '../semantics/problems/places.ts';
import type { Target } from '../semantics/problems/report.ts';
import { declaredIn } from './declared.ts';
import { isSame, meaningOf, textOf, type Meaning, type Sense } from './meaning.ts';
import type { Workspace } from './workspace.ts';

export interface Occurrence {
  readonly at: TextPlace;
  readonly field: Field;
  readonly declares: boolean;
  /** A figure is set here: on the left of a colon. */
  readonly sets: boolean;
}

/** In every file of the workspace, the library too; the declaration is among them. */
export async function occurrences(
  workspace: Workspace,
  sense: Sense,
  breathe: () => Promise<void>,
): Promise<Occurrence[]> {
  const uris = sense.is === 'local' ? [sense.declared?.uri ?? ''] : filesThatMay(workspace, sense);
  const found: Occurrence[] = [];
  for (const uri of uris) {
    await breathe();
    found.push(...occurrencesIn(workspace, uri, sense));
  }
  return found;
}

/** What a file declares is named there and in what rests on it; what no file declares may be named anywhere. */
function filesThatMay(workspace: Workspace, { declared }: Sense): readonly string[] {
  if (!declared || workspace.isOfLibrary(declared.uri)) return workspace.known();
  // a name of a file that is used may also be used by those beside it
  return [declared.uri, ...workspace.dependants(declared.uri).filter((uri) => uri.endsWith('.thou'))];
}

/** In one file, in the order of the text. Only words that read alike are looked at. */
export function occurrencesIn(workspace: Workspace, uri: string, sense: Sense): Occurrence[] {
  const source = workspace.source(uri);
  if (!source || !source.text.includes(sense.name)) return [];
  const result = workspace.result(uri);
  const places = new Places((at) => workspace.source(at));
  const found: Occurrence[] = [];
  for (const { parsed } of source.blocks) {
    if (!parsed.item || !parsed.text.includes(sense.name)) continue;
    for (const node of [parsed.item, ...nodesIn(parsed.item)]) {
      for (const field of fieldsNamed(node, sense.name)) {
        const at = places.place({ uri, at: node, property: field.property, index: field.index });
        const meaning = meaningOf(workspace, result, field, at);
        if (meaning && sameThing(meaning, sense))
          found.push({ at, field, declares: meaning.declares, sets: isSet(node) });
      }
    }
  }
  return found.sort((a, b) => a.at.start - b.at.start);
}

/** Properties of a tree that hold one word, a path of a file among them. */
const words = 'name target kind base twin text instrument unit marginUnit to path file'.split(' ');

function* fieldsNamed(node: AstNode, name: string): Generator<Field> {
  for (const property of words) if (textOf(node, property) === name) yield { node, property, index: 0 };
  for (const property of ['choices', 'axes']) {
    const values = (node as unknown as Record<string, unknown>)[property];
    if (!Array.isArray(values)) continue;
    for (const [index, value] of values.entries()) if (value === name) yield { node, property, index };
  }
}

function sameThing(a: Sense, b: Sense): boolean {
  if (a.is !== b.is) return false;
  const [one, other] = [declaredOf(a), declaredOf(b)];
  if (!one || !other) return !one && !other && a.name === b.name && a.uri === b.uri;
  return isSame(one, { node: other.at, property: other.property ?? '', index: other.index ?? 0 });
}

function declaredOf({ declared, things }: Sense): Target | null {
  return declared ?? (things[0] ? declaredIn(things[0]) : null);
}

function isSet(node: AstNode): boolean {
  const path = node.$type === 'PathStep' ? node.$container : undefined;
  return (
    path?.$container?.$type === 'Given' &&
    (path as Meaning['field']['node'] & { steps: unknown[] }).steps.at(-1) === node
  );
}
