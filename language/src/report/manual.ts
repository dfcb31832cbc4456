// The reference manual of a trade library as Markdown, read off its declarations: nothing in it is written twice.
// Knows syntax and schema; knows no build.
import type { AstNode } from 'langium';
import { displayUnit } from '@thou/shared/number/format';
import { describe } from '@thou/shared/dimension/dimension';
import { nameOf } from '@thou/shared/dimension/types';
import { standardUnits } from '@thou/shared/unit/unit';
import type * as ast from '../grammar/generated/ast.ts';
import { docOf, type SourceFile } from '../grammar/file.ts';
import type { Mount, Schema, SchemaAxis, SchemaRule, Slot } from '../semantics/schema/schema.ts';
import type { ValueType } from '../semantics/types/type.ts';
import { pathWords } from './check-words.ts';
import { capitalised, docText, listed, localsOf, sourceLine, textOf, words } from './place.ts';
import type { Chapter } from './sections.ts';

export interface ManualOptions {
  readonly edition: number | null;
  readonly chapters: readonly Chapter[];
  /** The text of a chapter, for what no schema carries: functions, units, parts, practice. */
  source(uri: string): SourceFile | undefined;
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
  const shared = sharedByAll(schema);
  const blocks = [
    everyComponentText(schema, shared, uri),
    ...componentsOf(schema).map(([component, mount]) => componentText(schema, component, mount, uri, shared)),
    ...fileBlocks(options.source(uri)),
  ].filter((block) => block !== '');
  return blocks.length === 0 ? '' : [`## ${title}`, ...blocks].join('\n\n');
}

/** Declarations that every component has alike. */
function sharedByAll(schema: Schema): ReadonlySet<AstNode> {
  const components = componentsOf(schema);
  const counts = new Map<AstNode, number>();
  for (const [, mount] of components) {
    for (const id of mount.slots) {
      const { at } = schema.slots[id]!.origin;
      counts.set(at, (counts.get(at) ?? 0) + 1);
    }
  }
  return new Set([...counts].filter(([, count]) => count > 1 && count === components.length).map(([at]) => at));
}

function everyComponentText(schema: Schema, shared: ReadonlySet<AstNode>, uri: string): string {
  const [first] = schema.mounts;
  const slots = (first?.slots ?? [])
    .map((id) => schema.slots[id]!)
    .filter(({ origin }) => origin.uri === uri && shared.has(origin.at));
  return slots.length === 0 ? '' : ['### Every component', ...slots.map((slot) => slotText(schema, slot))].join('\n\n');
}

/** Each component once, by the first mount that has it; the root first. */
function componentsOf({ mounts }: Schema): [string, Mount][] {
  const first = new Map<string, Mount>();
  for (const mount of mounts) if (!first.has(mount.component)) first.set(mount.component, mount);
  return [...first];
}

function componentText(
  schema: Schema,
  component: string,
  mount: Mount,
  uri: string,
  shared: ReadonlySet<AstNode>,
): string {
  const here = <T extends { readonly origin: { readonly uri: string } }>(things: readonly T[]): T[] =>
    things.filter(({ origin }) => origin.uri === uri);
  const slots = here(mount.slots.map((id) => schema.slots[id]!)).filter(({ origin }) => !shared.has(origin.at));
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
    ...localsOf(slot).map((local) => `where ${code(textOf(local) ?? '')}`),
    slot.measuredBy ? `From its readings: ${code(textOf(slot.measuredBy.at) ?? '')}` : '',
    slot.features.includes('grows') ? 'A cut only makes it larger.' : '',
    slot.features.includes('falls') ? 'A cut only makes it smaller.' : '',
    slot.features.includes('bought') && slot.sort === 'derive' ? 'A size to be ordered.' : '',
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
function fileBlocks(source: SourceFile | undefined): string[] {
  const items = (source?.blocks ?? []).flatMap(({ parsed }) => (parsed.item ? [parsed.item] : []));
  return items.flatMap((item) => {
    if (item.$type === 'FunctionDeclaration') {
      const written = code((textOf(item) ?? '').replace(/^function\s+/, ''));
      return [entry(`function ${item.name}`, '', docOf(item), [written])];
    }
    if (item.$type === 'Part') return [entry(item.name, `part, ${item.kind}`, docOf(item), [])];
    if (item.$type === 'UnitDeclaration') return [entry(textOf(item) ?? '', 'unit', docOf(item), [])];
    return item.$type === 'Practice' ? [practiceText(item)] : [];
  });
}

function practiceText(item: ast.Practice): string {
  const rows = givenRows(item.body, '').map(([path, value]) => `| ${path} | ${escapeCell(value)} |`);
  const table = ['| figure | value |', '| --- | --- |', ...rows].join('\n');
  return [`#### Practice: ${item.label}`, ...docLines(docOf(item)), table].join('\n\n');
}

function givenRows(body: ast.Body | undefined, before: string): [string, string][] {
  return (body?.members ?? []).flatMap((member): [string, string][] => {
    if (member.$type !== 'Given') return [];
    const path = before + (textOf(member.path) ?? '');
    const inner = givenRows(member.body, `${path}.`);
    return member.value ? [[path, textOf(member.value) ?? ''], ...inner] : inner;
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
