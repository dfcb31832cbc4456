/** What the manifest offers: settings as the table has them, commands that show only where they can be run, first steps that lead somewhere, tools that the server answers. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { settingTable, type Choice, type Flag, type Whole } from '@thou/shared/settings';
import { answered } from '../language/services/asking.ts';
import { workspaceOf } from '../language/services/open.ts';
import { sourcesUnder, textOf } from './walls.ts';

const folder = join(import.meta.dirname, '../../extension');

interface Setting {
  readonly type: string;
  readonly scope: string;
  readonly order: number;
  readonly default: unknown;
  readonly enum?: readonly string[];
  readonly enumDescriptions?: readonly string[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly markdownDescription: string;
}
interface Manifest {
  readonly files: readonly string[];
  readonly contributes: {
    readonly commands: readonly { readonly command: string; readonly category: string; readonly enablement?: string }[];
    readonly keybindings: readonly { readonly when?: string }[];
    readonly menus: { readonly commandPalette: readonly { readonly command: string; readonly when: string }[] };
    readonly configuration: { readonly properties: Readonly<Record<string, Setting>> };
    readonly walkthroughs: readonly {
      readonly id: string;
      readonly steps: readonly {
        readonly description: string;
        readonly media: { readonly svg: string };
        readonly completionEvents: readonly string[];
      }[];
    }[];
    readonly languageModelTools: readonly {
      readonly name: string;
      readonly modelDescription: string;
      readonly inputSchema: { readonly properties: object; readonly required?: readonly string[] };
    }[];
  };
}
const manifest = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;
const { commands, keybindings, menus, configuration, walkthroughs, languageModelTools } = manifest.contributes;
const texts = JSON.parse(readFileSync(join(folder, 'package.nls.json'), 'utf8')) as Readonly<Record<string, string>>;

function declared(one: Flag | Whole | Choice<string>): Partial<Setting> {
  switch (one.is) {
    case 'flag':
      return { type: 'boolean', default: one.usual };
    case 'number':
      return { type: 'integer', default: one.usual, minimum: one.least, maximum: one.most };
    case 'choice':
      return { type: 'string', default: one.usual, enum: one.words };
  }
}

test('the settings are those of the table', () => {
  const { properties } = configuration;
  expect(Object.keys(properties).toSorted()).toEqual(
    Object.keys(settingTable)
      .map((name) => `thou.${name}`)
      .toSorted(),
  );
  for (const [name, one] of Object.entries(settingTable))
    expect([name, properties[`thou.${name}`]]).toMatchObject([name, declared(one)]);
});

test('each setting says what it does, has a place of its own, and may differ from folder to folder', () => {
  const all = Object.entries(configuration.properties);
  expect(new Set(all.map(([, { order }]) => order)).size).toBe(all.length);
  for (const [name, one] of all) {
    expect([name, one.scope]).toEqual([name, name === 'thou.trace.server' ? 'window' : 'resource']);
    expect(texts[one.markdownDescription.slice(1, -1)]).toMatch(/^[A-Z`].*\.$/);
    expect([name, one.enumDescriptions?.length]).toEqual([name, one.enum?.length]);
  }
});

test('each command says where it can be run, and is there to be run', () => {
  const sources = sourcesUnder('extension/src').map(textOf).join('\n');
  const registered = [...sources.matchAll(/register(?:TextEditor)?Command\(\s*'([^']+)'/g)].map((match) => match[1]!);
  // in no list: what the first steps run others through, and what stands behind a line above a build
  const behind = new Set(['thou.showPlace', 'thou.showUses']);
  const listed = registered.filter((command) => !behind.has(command));
  expect(commands.map(({ command }) => command).toSorted()).toEqual(listed.toSorted());
  expect(sources).toContain("const inText = 'thou.inText'");
  // ways to begin are there before the first file of ours is open
  const beginnings = new Set(['thou.openSample', 'thou.newBuild', 'thou.openLibrary', 'thou.getStarted']);
  const hidden = new Set(menus.commandPalette.filter(({ when }) => when === 'false').map(({ command }) => command));
  for (const { command, category, enablement } of commands) {
    const always = beginnings.has(command) || hidden.has(command);
    expect([command, category, enablement]).toEqual([command, 'Thou', always ? undefined : expect.any(String)]);
  }
});

test('one key is taken, and only in our files', () => {
  expect(keybindings.map(({ when }) => when)).toEqual(['thou.active && editorLangId == thou']);
});

test('the first steps lead to commands that there are, with pictures that ship and take the colours of the theme', () => {
  const [{ steps }] = walkthroughs as [Manifest['contributes']['walkthroughs'][0]];
  const own = new Set(commands.map(({ command }) => command));
  for (const { description, media, completionEvents } of steps) {
    const runs = [...texts[description.slice(1, -1)]!.matchAll(/\(command:(?:thou\.inText\?%22)?([\w.]+)(?:%22)?\)/g)];
    const named = runs.map((match) => match[1]!);
    expect(named.filter((command) => !own.has(command) && !command.startsWith('editor.action.'))).toEqual([]);
    const ended = completionEvents.map((event) => event.replace(/^on(Command:|Context:thou\.walked\.)/, ''));
    expect(ended.every((one) => named.includes(one))).toBe(true);
    expect(manifest.files.some((file) => media.svg.startsWith(file))).toBe(true);
    const svg = readFileSync(join(folder, media.svg), 'utf8');
    expect(svg).toContain('var(--vscode-foreground)');
    expect(svg.replaceAll(/xmlns="[^"]*"/g, '').match(/#[0-9a-f]{3,8}\b|rgb|href|<script/gi)).toBeNull();
  }
  expect(steps.length).toBeGreaterThanOrEqual(4);
});

test('the sample of the first steps has one finding, and a fix for it after which nothing is out', async () => {
  const uri = 'file:///first.thou';
  const text = readFileSync(join(folder, 'media/walkthrough/first-steps.thou'), 'utf8');
  const workspace = workspaceOf({ 'first.thou': text });
  const out = () => workspace.result(uri).outcomes[0]!.checks.filter(({ state }) => state === 'out-of-limits');
  expect([workspace.result(uri).problems, out().map(({ id }) => id)]).toEqual([[], ['quench-clearance']]);
  const before = text.slice(0, text.indexOf('214.15')).split('\n');
  const at = { line: before.length - 1, character: before.at(-1)!.length };
  const asked = { textDocument: { uri }, range: { start: at, end: at }, context: { diagnostics: [] } };
  type Edits = { changes: Record<string, { range: { start: typeof at; end: typeof at }; newText: string }[]> };
  const offers = (await answered(workspace, 'textDocument/codeAction', asked)) as {
    isPreferred?: boolean;
    edit: Edits;
  }[];
  const [{ range, newText }] = offers.find((one) => one.isPreferred)!.edit.changes[uri] as [
    Edits['changes'][string][0],
  ];
  const lines = text.split('\n');
  const line = lines[range.start.line]!;
  lines[range.start.line] = line.slice(0, range.start.character) + newText + line.slice(range.end.character);
  workspace.open(uri, lines.join('\n'));
  expect(workspace.result(uri).problems).toEqual([]);
  expect(out()).toEqual([]);
});

test('each tool is answered by the server, and says to a model that it changes nothing', async () => {
  const workspace = workspaceOf({ 'a.thou': 'use prelude 1\nbuild a { layout: single }\n' });
  const samples: Readonly<Record<string, unknown>> = { figure: 'redline', goals: ['redline = 1 rpm'] };
  for (const { name, modelDescription, inputSchema } of languageModelTools) {
    const input = Object.fromEntries((inputSchema.required ?? []).map((key) => [key, samples[key]]));
    const { text } = (await answered(workspace, 'thou/tool', { tool: name, input, active: null })) as { text: string };
    expect([name, text]).toEqual([name, expect.not.stringMatching(/There is no tool|^Say (which|what)/)]);
    expect(modelDescription).toMatch(/Reads only\.$|Changes nothing\.$/);
  }
  const registered = /const tools = \[([^\]]*)\]/.exec(textOf('extension/src/tools.ts'))![1]!.match(/thou_\w+/g);
  expect(languageModelTools.map(({ name }) => name)).toEqual(registered);
});

test('what the manifest says to be packed is there', () => {
  const made = /^(dist|LICENSE|README|CHANGELOG|THIRD)/;
  expect(manifest.files.filter((file) => !made.test(file) && !existsSync(join(folder, file)))).toEqual([]);
});
