/** The servers that are compared: how each is started, what it reads, how its answer to an edit is recognised. */
import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { bundle } from '../../../extension/build/bundle.ts';
import { samples } from '../text.ts';
import type { Client, Diagnostics } from './client.ts';
import { langiumServer } from './langium.ts';
import {
  emptyGrammar,
  jsonSchema,
  jsonText,
  plainGrammar,
  plainText,
  thouText,
  yamlSchema,
  yamlText,
  type Edited,
} from './texts.ts';

export interface Subject {
  readonly name: string;
  readonly command: readonly string[];
  readonly language: string;
  readonly file: string;
  text(lines: number): Edited;
  readonly options: unknown;
  /** Asked for its diagnostics instead of sending them: no waiting time is in its figures. */
  readonly pull: boolean;
  /** Diagnostics that reflect the text as it is now. */
  reflects(published: Diagnostics, edited: Edited, isBad: boolean): boolean;
  prepare?(client: Client): void;
  /** What it tells when all that is to be said of a file was sent, where it says things one after the other. */
  readonly whole?: string;
}

const here = import.meta.dirname;
const top = join(here, '../../..');
const rivals = join(here, 'rivals');

/** One finding more is said where the bad text stands than where the good one does. */
const oneMore = ({ diagnostics }: Diagnostics, _: Edited, isBad: boolean): boolean => diagnostics.length > 0 === isBad;

export async function subjectsIn(
  work: string,
): Promise<{ readonly compared: readonly Subject[]; readonly empty: Subject }> {
  if (!existsSync(join(rivals, 'node_modules'))) {
    execFileSync('npm', ['ci', '--ignore-scripts', '--no-audit', '--no-fund'], { cwd: rivals, stdio: 'inherit' });
  }
  mkdirSync(work, { recursive: true });
  cpSync(samples, work, { recursive: true });
  writeFileSync(join(work, 'schema.json'), JSON.stringify(jsonSchema));
  mkdirSync(join(work, 'yaml'), { recursive: true });
  writeFileSync(join(work, 'yaml/schema.json'), JSON.stringify(yamlSchema));
  await bundle();
  const json = {
    command: [join(rivals, 'node_modules/vscode-langservers-extracted/bin/vscode-json-language-server'), '--stdio'],
    language: 'json',
    text: jsonText,
    options: { handledSchemaProtocols: ['file'], provideFormatter: true },
    reflects: oneMore,
  };
  const plain = await langiumServer(join(here, 'dist/plain'), plainGrammar);
  const empty = await langiumServer(join(here, 'dist/empty'), emptyGrammar);
  const langium = { language: 'plain', text: plainText, options: {}, pull: false, reflects: oneMore };
  return {
    compared: [
      {
        name: 'Thou',
        command: [join(top, 'extension/dist/language/server.cjs')],
        language: 'thou',
        file: 'speed.thou',
        text: thouText,
        options: { buildStatus: true },
        whole: 'thou/buildStatus',
        pull: false,
        reflects: ({ diagnostics }, { good, bad }, isBad) => {
          const figure = Number(isBad ? bad : good).toFixed(4);
          return diagnostics.some(({ message }) => message.includes(`is ${figure} in`));
        },
      },
      {
        name: 'yaml-language-server 2.0.0',
        command: [join(rivals, 'node_modules/yaml-language-server/bin/yaml-language-server'), '--stdio'],
        language: 'yaml',
        file: 'yaml/speed.yaml',
        text: yamlText,
        options: {},
        pull: false,
        reflects: oneMore,
        prepare: (client) =>
          client.notify('workspace/didChangeConfiguration', {
            settings: { yaml: { validate: true, hover: true, completion: true } },
          }),
      },
      { ...json, name: 'vscode-json-language-server 4.10.0', file: 'speed.json', pull: false },
      { ...json, name: 'the same, asked: its bare work', file: 'speed-asked.json', pull: true },
      { ...langium, name: 'Langium 4.4.0 as it comes', command: [plain, '--stdio'], file: 'speed.plain' },
    ],
    empty: { ...langium, name: 'Langium 4.4.0, empty grammar', command: [empty, '--stdio'], file: 'empty.plain' },
  };
}

/** The same with a brace too many in its second line. */
export function slipped(subject: Subject): Subject {
  return {
    ...subject,
    text: (lines) => {
      const edited = subject.text(lines);
      return { ...edited, text: edited.text.replace('\n', '\n}\n') };
    },
  };
}

export function addressIn(work: string, file: string): string {
  return pathToFileURL(join(work, file)).href;
}
