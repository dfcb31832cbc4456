// The reference manual of a trade library as Markdown, read off its declarations: nothing in it is written twice.
// Knows syntax and schema; knows no build.
import type { AstNode } from 'langium';
import { displayUnit } from '@thou/shared/number/format';
import { describe } from '@thou/shared/dimension/dimension';
import { nameOf } from '@thou/shared/dimension/types';
import { standardUnits } from '@thou/shared/unit/unit';
import type { Mount, Schema, SchemaAxis, SchemaRule, Slot } from '../semantics/schema/schema.ts';
import type { ValueType } from '../semantics/types/type.ts';
import { pathWords } from './findings.ts';
import { capitalised, docText, isNode, listed, partOf, sourceLine, textOf, words } from './place.ts';
import type { Chapter } from './sections.ts';

export interface ManualOptions {
  readonly edition: number | null;
  readonly chapters: readonly Chapter[];
  /** The doc comment of a declaration that no schema carries: functions, units, parts. */
  docOf(at: AstNode): string | undefined;
}

export function manual(schema: Schema, options: ManualOptions): string {
  const edition = options.edition === null ? '' : `, edition ${options.edition}`;
  const chapters = options.chapters
    .map(({ uri, title }) => chapterText(schema, uri, title, options))
    .filter((text) => text !== '');
  const text = [`# The trade library${edition}`, ...chapters, unitsText()].join('\n\n');
  return `${text.replace(/\n{3,}/g, '\n\n').trimEnd()}\n`;
}

function chapterText(schema: Schema, uri: string, title: string, options: ManualOptions): string {
  const blocks = [
    ...componentsOf(schema).map(([component, mount]) => componentText(schema, component, mount, uri)),
    ...fileBlocks(schema, uri, options),
  ].filter((block) => block !== '');
  return blocks.length === 0 ? '' : [`## ${title}`, ...blocks].join('\n\n');
}

/** Each component once, by the first mount that has it; the root first. */
function componentsOf({ mounts }: Schema): [string, Mount][] {
  const first = new Map<string, Mount>();
  for (const mount of mounts) if (!first.has(mount.component)) first.set(mount.component, mount);
  return [...first];
}

function componentText(schema: Schema, component: string, mount: Mount, uri: string): string {
  const here = <T extends { readonly origin: { readonly uri: string } }>(things: readonly T[]): T[] =>
    things.filter(({ origin }) => origin.uri === uri);
  const slots = here(mount.slots.map((id) => schema.slots[id]!).filter((slot) => slot !== undefined));
  const rules = here(schema.rules.filter((rule) => rule.mount === mount.id));
  const axes = here(schema.axes.filter((axis) => axis.mount === mount.id));
  const mounts = here(mount.children.map((id) => schema.mounts[id]!));
  if (slots.length + rules.length + axes.length + mounts.length === 0) return '';
  return [
    `### ${component}`,
    ...mounts.map((child) => mountText(schema, child)),
    ...axes.map((axis) => axisText(axis)),
    ...slots.map((slot) => slotText(schema, slot)),
    ...rules.map((rule) => ruleText(schema, rule)),
  ].join('\n\n');
}

function mountText(schema: Schema, mount: Mount): string {
  const own = mount.axes.filter((axis) => !(schema.mounts[mount.parent ?? -1]?.axes ?? []).includes(axis));
  const absent = mount.optional ? ', may be absent' : '';
  return entry(mount.name, `${mount.component}${axesWords(schema, own)}${absent}`, mount.doc, []);
}

function axisText(axis: SchemaAxis): string {
  const written = textOf(axis.origin.at)?.replace(/^axis\s+[\w-]+\s*(=|is)\s*/, '') ?? '';
  return entry(`axis ${axis.name}`, axis.labels ? axis.labels.join(', ') : code(written), axis.doc, []);
}

function slotText(schema: Schema, slot: Slot): string {
  const formula = textOf(slot.formula?.at);
  const own = slot.axes.filter((axis) => !(schema.mounts[slot.mount]?.axes ?? []).includes(axis));
  const details = [
    formula === null
      ? ''
      : `${slot.sort === 'derive' ? 'Formula' : slot.exactDefault ? 'Where nothing is given' : 'Where nothing is given, worked out'}: ${code(formula)}`,
    ...localTexts(slot.origin.at).map((local) => `where ${code(local)}`),
    slot.measuredBy ? `From its readings: ${code(textOf(slot.measuredBy.at) ?? '')}` : '',
    slot.features.includes('grows') ? 'A cut only makes it larger.' : '',
    slot.features.includes('falls') ? 'A cut only makes it smaller.' : '',
    slot.changedBy.length > 0
      ? `Its readings age when ${listed(
          slot.changedBy.map((id) => pathWords(schema.slots[id]!.path)),
          'or',
        )} is machined.`
      : '',
  ];
  const shown = slot.shown.map(
    ({ decimals, unit }) => `${decimalsWords(decimals)}${unit ? ` ${displayUnit(unit.symbol)}` : ''}`,
  );
  const shownText = shown.length === 0 ? '' : `, shown as ${shown.join(' / ')}`;
  return entry(slot.name, `${typeWords(slot.type)}${axesWords(schema, own)}${shownText}`, slot.doc, details);
}

function decimalsWords(decimals: number): string {
  return decimals === 0 ? '0' : `0.${'0'.repeat(decimals)}`;
}

function localTexts(at: AstNode): string[] {
  const locals = (partOf(at, 'where') as unknown as { locals?: unknown } | null)?.locals;
  return Array.isArray(locals) ? locals.filter(isNode).map((local) => textOf(local) ?? '') : [];
}

function ruleText(schema: Schema, rule: SchemaRule): string {
  const { comparisons, flag, at } = rule.demand;
  const expect = textOf(at)?.replace(/^expect\s+/, '') ?? textOf(comparisons[0]?.value.at ?? flag?.at) ?? '';
  return entry(`rule ${rule.name}`, rule.severity, rule.doc, [
    rule.when ? `Applies when ${code(textOf(rule.when.at) ?? '')}` : '',
    `Holds when ${code(expect)}`,
    rule.because === '' ? '' : `Because ${rule.because}.`,
    rule.adjust.length === 0
      ? ''
      : `To mend it: ${rule.adjust.map(({ slot, link }) => `${link === null ? '' : ` ${link} `}${pathWords(schema.slots[slot]?.path ?? '')}`).join('')}.`,
  ]);
}

function typeWords(type: ValueType): string {
  switch (type.is) {
    case 'measure':
      return nameOf(type.measure);
    case 'limits':
      return `limits of ${nameOf(type.measure)}`;
    case 'choice':
      return listed(type.names, 'or');
    case 'curve':
      return `${nameOf(type.result)} against ${listed(type.against.map((measure) => nameOf(measure)))}`;
    case 'part':
      return type.component;
    case 'index':
      return 'a place on an axis';
    case 'flag':
      return 'yes or no';
    case 'any':
      return 'any quantity';
    default:
      return type.is;
  }
}

function axesWords(schema: Schema, axes: readonly number[]): string {
  return axes.map((id) => ` per ${words(schema.axes[id]?.name ?? '')}`).join('');
}

/** Functions, parts, practice and units of one file, as they are written. */
function fileBlocks(schema: Schema, uri: string, options: ManualOptions): string[] {
  const root = rootOf(schema, uri);
  const items = (root as unknown as { items?: unknown } | null)?.items;
  if (!Array.isArray(items)) return [];
  return items.filter(isNode).flatMap((item) => {
    const name = (item as unknown as { name?: string }).name ?? '';
    const written = textOf(item) ?? '';
    if (item.$type === 'FunctionDeclaration')
      return [entry(`function ${name}`, '', options.docOf(item), [code(written.replace(/^function\s+/, ''))])];
    if (item.$type === 'Part')
      return [entry(name, `part, ${(item as unknown as { kind?: string }).kind ?? ''}`, options.docOf(item), [])];
    if (item.$type === 'UnitDeclaration') return [entry(written, 'unit', options.docOf(item), [])];
    if (item.$type === 'Practice') return [practiceText(item, options)];
    return [];
  });
}

function rootOf(schema: Schema, uri: string): AstNode | null {
  const declared = [...schema.slots, ...schema.rules, ...schema.axes, ...schema.mounts].find(
    ({ origin }) => origin.uri === uri,
  );
  let root = declared?.origin.at ?? null;
  while (root?.$container) root = root.$container;
  return root;
}

function practiceText(item: AstNode, options: ManualOptions): string {
  const { label = '' } = item as unknown as { label?: string };
  const rows = givenRows(partOf(item, 'body'), '').map(([path, value]) => `| ${path} | ${escapeCell(value)} |`);
  const doc = options.docOf(item);
  return [`#### Practice: ${label.replaceAll('"', '')}`, ...docLines(doc), '| figure | value |\n| --- | --- |', ...rows]
    .join('\n')
    .replace('| figure', '\n| figure');
}

function givenRows(body: AstNode | null, before: string): [string, string][] {
  const members = (body as unknown as { members?: unknown } | null)?.members;
  if (!Array.isArray(members)) return [];
  return members.filter(isNode).flatMap((member): [string, string][] => {
    const path = before + (textOf(partOf(member, 'path')) ?? '');
    const value = partOf(member, 'value');
    const inner = givenRows(partOf(member, 'body'), `${path}.`);
    return value ? [[path, textOf(value) ?? ''], ...inner] : inner;
  });
}

function entry(name: string, head: string, doc: string | undefined, details: readonly string[]): string {
  const bullets = details.filter((detail) => detail !== '').map((detail) => `- ${detail}`);
  const title = head === '' ? `**${name}**` : `**${name}**: ${head}`;
  return [title, ...docLines(doc), ...(bullets.length > 0 ? [bullets.join('\n')] : [])].join('\n\n');
}

function docLines(doc: string | undefined): string[] {
  const text = docText(doc);
  const source = sourceLine(doc);
  return [...(text === '' ? [] : [text]), ...(source === null ? [] : [`*Source:* ${source}`])];
}

/** Formulas as code; a back-tick inside takes a longer fence. */
function code(text: string): string {
  return text.includes('`') ? `\`\` ${text} \`\`` : `\`${text}\``;
}

function escapeCell(text: string): string {
  return text.replaceAll('|', '\\|');
}

/** Every unit, by what it measures. */
function unitsText(): string {
  const byMeasure = new Map<string, string[]>();
  for (const symbol of standardUnits.symbols()) {
    const unit = standardUnits.get(symbol);
    if (!unit) continue;
    const name = capitalised(
      unit.measure.kind === null && nameOf(unit.measure).includes(' or ')
        ? describe(unit.measure.dimension)
        : nameOf(unit.measure),
    );
    byMeasure.set(name, [...(byMeasure.get(name) ?? []), displayUnit(symbol)]);
  }
  const rows = [...byMeasure]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, symbols]) => `| ${name} | ${symbols.join(', ')} |`);
  return ['## Units', '| measures | units |\n| --- | --- |\n' + rows.join('\n')].join('\n\n');
}
