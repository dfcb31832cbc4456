// One declaration as an entry of the manual: what it takes, its formula, what practice gives for it, its table.
import type { AstNode } from 'langium';
import type * as ast from '../../grammar/generated/ast.ts';
import { docOf } from '../../grammar/file.ts';
import { listed, textOf, words } from '../place.ts';
import { everyComponent, type DeclaredThing } from './declared.ts';
import { paragraphsOf } from './docs.ts';
import type { Formula, ManualEntry } from './model.ts';
import type { Links } from './names.ts';
import { givenIn, tableIn } from './tables.ts';
import { shownOf, takesOf } from './types.ts';

/** What practice says of an entry, by the id of that entry. */
export type GivenBy = ReadonlyMap<string, ManualEntry['given']>;

export interface Setting {
  readonly links: Links;
  readonly practice: GivenBy;
  /** Where each component stands in another. */
  readonly mounted: ReadonlyMap<string, readonly string[]>;
  /** Not a place on an axis, and not a part on the way to a figure. */
  readonly isFigure: (id: string) => boolean;
  readonly isRule: (id: string) => boolean;
  readonly isComponent: (name: string) => boolean;
}

type Own = Pick<ManualEntry, 'name' | 'sort' | 'takes' | 'shown' | 'formulas' | 'facts' | 'table'>;

export function entryOf({ item, id, owner }: DeclaredThing, setting: Setting): ManualEntry {
  const { links, practice, mounted, isFigure, isRule, isComponent } = setting;
  return {
    id,
    owner: owner === everyComponent ? 'every component' : owner,
    doc: paragraphsOf(docOf(item)),
    given: practice.get(id) ?? [],
    uses: [...componentsBehind(item).filter(isComponent), ...links.uses(id).filter(isFigure)],
    usedBy: [...links.usedBy(id).filter((one) => !isRule(one)), ...(mounted.get(id) ?? [])],
    checkedBy: links.usedBy(id).filter(isRule),
    ...ownOf(item, setting),
  };
}

/** The component that a part is of, or that a place is for. */
function componentsBehind(item: DeclaredThing['item']): string[] {
  return item.$type === 'Part' ? [item.kind] : item.$type === 'Property' ? [componentOf(item)] : [];
}

function ownOf(item: DeclaredThing['item'], setting: Setting): Own {
  const formula = formulasWith(setting.links);
  switch (item.$type) {
    case 'Component':
      return { ...nothing, name: item.name, sort: 'component' };
    case 'Property':
      return propertyOf(item, setting);
    case 'Derive':
      return {
        ...nothing,
        name: item.name,
        sort: 'worked out',
        takes: takesOf(item.type),
        shown: shownOf(item.type),
        formulas: [...formula('Formula', item.value), ...localsIn(item.where, setting.links)],
        facts: item.features.includes('bought') ? ['A size to be ordered.'] : [],
      };
    case 'Rule':
      return ruleOf(item, setting.links);
    case 'Axis':
      return {
        ...nothing,
        name: item.name,
        sort: 'axis',
        takes: item.twin === undefined ? item.bounds.map((bound) => textOf(bound) ?? '').join(' | ') : '',
        facts: item.twin === undefined ? [] : [`The same places as ${words(item.twin)}, beside it.`],
        formulas: formula('Step', item.step),
      };
    case 'FunctionDeclaration':
      return {
        ...nothing,
        name: item.name,
        sort: 'function',
        takes: `${item.parameters.map((one) => `${one.name}: ${takesOf(one.type)}`).join(', ')} → ${takesOf(item.type)}`,
        formulas: [...formula('Formula', item.value), ...localsIn(item.where, setting.links)],
      };
    case 'Part':
      return {
        ...nothing,
        name: item.name,
        sort: 'part',
        takes: item.base === undefined ? item.kind : `${item.kind}, from ${item.base}`,
        table: tableIn(item.body),
      };
    case 'Practice':
      return { ...nothing, name: item.label, sort: 'practice', table: tableIn(item.body) };
    case 'UnitDeclaration':
      return {
        ...nothing,
        name: item.name,
        sort: 'unit',
        takes: takesOf(item.type),
        formulas: formula('Is', item.value),
      };
    case 'DimensionDeclaration':
      return { ...nothing, name: item.name, sort: 'kind of quantity', takes: takesOf(item.type) };
  }
}

const nothing: Own = { name: '', sort: '', takes: '', shown: '', formulas: [], facts: [], table: null };

function formulasWith(links: Links): (label: string, at: AstNode | undefined) => Formula[] {
  return (label, at) => (at ? [{ label, pieces: links.pieces(at) }] : []);
}

function localsIn(where: ast.Where | undefined, links: Links): Formula[] {
  return (where?.locals ?? []).map((local) => ({ label: 'where', pieces: links.pieces(local) }));
}

const whatFeaturesMean: ReadonlyMap<string, string> = new Map([
  ['grows', 'A cut only makes it larger.'],
  ['falls', 'A cut only makes it smaller.'],
  ['set', 'Chosen, not read: it is never on the list of what is to be measured.'],
  ['bought', 'Bought in the sizes that parts are offered in.'],
  ['ticked', 'A task: on the list of what is to be done until it is said to be.'],
]);

/** The component that a property may stand for. */
export function componentOf({ type }: ast.Property): string {
  return type?.of?.$type === 'TypeName' ? type.of.name : '';
}

function propertyOf(item: ast.Property, { links, isComponent }: Setting): Own {
  const formula = formulasWith(links);
  const mounts = isComponent(componentOf(item));
  return {
    ...nothing,
    name: item.name,
    sort: mounts ? 'part of the whole' : item.type?.limits ? 'limits' : 'property',
    takes: takesOf(item.type),
    shown: shownOf(item.type),
    formulas: [...formula('Where nothing is given', item.value), ...formula('From its readings', item.measuredBy)],
    facts: [
      ...item.features.flatMap((feature) => whatFeaturesMean.get(feature) ?? []),
      ...(item.changedBy.length === 0
        ? []
        : [
            `Its readings age when ${listed(
              item.changedBy.map((path) => words(textOf(path) ?? '')),
              'or',
            )} is machined.`,
          ]),
      ...givenIn(item.body).map(([path, value]) => `Here ${words(path)} is ${value} where nothing is given.`),
    ],
  };
}

function ruleOf(item: ast.Rule, links: Links): Own {
  const formula = formulasWith(links);
  return {
    ...nothing,
    name: item.name,
    sort: 'rule',
    takes: item.severity,
    formulas: item.clauses.flatMap((clause) => {
      switch (clause.$type) {
        case 'When':
          return formula('Applies when', clause.condition);
        case 'Expect':
          return formula('Holds when', clause.value);
        case 'Adjust':
          return clause.targets.flatMap((target, at) =>
            formula(at === 0 ? 'To mend it' : (clause.links[at - 1] ?? 'or'), target),
          );
        default:
          return [];
      }
    }),
    facts: item.clauses.flatMap((clause) => (clause.$type === 'Because' ? [`Because ${clause.text}.`] : [])),
  };
}
