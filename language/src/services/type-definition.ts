/** From a figure to the component that it belongs to, from a part to its component, from a choice to the type that lists it. */
import type { Location } from 'vscode-languageserver-types';
import type * as ast from '../grammar/generated/ast.ts';
import type { FileResult } from '../semantics/project.ts';
import { locationOf } from './definition.ts';
import { meaningAt, placeOf, type Meaning } from './meaning.ts';
import type { Workspace } from './workspace.ts';

export function typeDefinitionAt(workspace: Workspace, uri: string, offset: number): Location | null {
  const meaning = meaningAt(workspace, uri, offset);
  const name = meaning && componentOf(meaning);
  const component = name ? componentNamed(name, workspace.result(uri)) : undefined;
  return component
    ? locationOf(workspace, placeOf(workspace, { uri: component.uri, at: component.item, property: 'name' }))
    : null;
}

function componentNamed(name: string, { ground }: FileResult) {
  return ground.setting.library.components.get(name);
}

function componentOf({ is, name, things, declared }: Meaning): string | null {
  const [thing] = things;
  if (is === 'component') return name;
  if (is === 'part') return (declared?.at as ast.Part | undefined)?.kind ?? null;
  if (thing?.is === 'mount') return thing.draft.mounts[thing.mount]?.component ?? null;
  if (thing?.is !== 'slot') return null;
  const slot = thing.draft.slots[thing.slot];
  return (slot && thing.draft.mounts[slot.mount]?.component) ?? null;
}
