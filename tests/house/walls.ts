/** Which rooms may use which. Each wall has a name and a reason; an import through one is a failure. */
import { readdirSync, readFileSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { join, posix, relative, sep } from 'node:path';

export interface Wall {
  readonly name: string;
  /** Files that the wall stands round: a path prefix from the top of the repository. */
  readonly inside: RegExp;
  /** What they may not import: a path from the top, or a package. */
  readonly forbidden: RegExp;
  /** Types alone may pass. */
  readonly typesMayPass?: boolean;
  readonly reason: string;
}

const outsideCore = /^(node:|vscode|@vscode\/)/;

export const walls: readonly Wall[] = [
  {
    name: 'shared stands alone',
    inside: /^shared\/src\//,
    forbidden: /^(language\/|extension\/|thou|langium|vscode|node:|@vscode)/,
    reason: 'units, figures and models serve the language and the editor alike: they know neither',
  },
  {
    name: 'the core is pure',
    inside: /^language\/src\/(grammar|format|semantics|report)\//,
    forbidden: outsideCore,
    reason: 'the core takes text and gives records; only entry points touch files, and only services know the protocol',
  },
  {
    name: 'only the grammar runs the parser kit',
    inside: /^language\/src\/(format|semantics|report|command-line)\//,
    forbidden: /^langium/,
    typesMayPass: true,
    reason: 'what stands behind the tree must not depend on how it was parsed',
  },
  {
    name: 'the evaluator knows no names',
    inside: /^language\/src\/semantics\/evaluate\//,
    forbidden: /^language\/src\/(grammar|semantics\/(names|schema|bind|plan|check|problems))\//,
    typesMayPass: true,
    reason: 'while figures are computed nothing is looked up by name',
  },
  {
    name: 'meaning does not know its readers',
    inside: /^language\/src\/(grammar|semantics)\//,
    forbidden: /^language\/src\/(report|command-line|services|format)\//,
    reason: 'diagnostics, sheet and command line read the same outcome; none of them shapes it',
  },
  {
    name: 'certainty judges nothing',
    inside: /^language\/src\/semantics\/certainty\//,
    forbidden: /^language\/src\/(grammar|semantics\/(bind|names|check|solve|due|problems))\//,
    typesMayPass: true,
    reason: 'what a figure is worth follows from the plan alone; limits and texts are for those who ask',
  },
  {
    name: 'the grammar knows no meaning',
    inside: /^language\/src\/grammar\//,
    forbidden: /^language\/src\/semantics\//,
    reason: 'a text can be parsed and formatted without knowing what its names mean',
  },
  {
    name: 'formatting needs only the text',
    inside: /^language\/src\/format\//,
    forbidden: /^language\/src\/(semantics|report|command-line)\//,
    reason: 'layout must not depend on meaning',
  },
  {
    name: 'reports run without a terminal',
    inside: /^language\/src\/report\//,
    forbidden: /^language\/src\/command-line\//,
    reason: 'the same sheet is shown at the command line and in the editor',
  },
  {
    name: 'services run anywhere',
    inside: /^language\/src\/services\//,
    forbidden:
      /^(node:|vscode$|vscode-languageserver(-protocol)?\/(node|browser)|vscode-jsonrpc\/|language\/src\/command-line\/)/,
    reason: 'the same server runs beside a desktop editor and in a browser worker; the entry brings streams and files',
  },
  {
    name: 'nothing leans on services',
    inside: /^language\/src\/(grammar|format|semantics|report)\//,
    forbidden: /^language\/src\/services\//,
    reason: 'what the editor asks for must not shape what the language says',
  },
  {
    name: 'only its entry knows Node',
    inside: /^language\/src\/(?!command-line\/)/,
    forbidden: /^(node:|vscode-languageserver(-protocol)?\/node|language\/src\/command-line\/)/,
    reason: 'all but the command line runs in a worker of a browser as well',
  },
  {
    name: 'the worker is an entry',
    inside: /^language\/src\/(?!worker\/)/,
    forbidden: /^language\/src\/worker\//,
    reason: 'what runs everywhere must not need a browser',
  },
  {
    name: 'the client runs anywhere',
    inside: /^extension\/src\/(?!desktop\/)/,
    forbidden: /^(node:|vscode-languageclient\/node|extension\/src\/desktop\/)/,
    reason: 'the same client runs beside a desktop editor and in a browser; the desktop has an entry of its own',
  },
  {
    name: 'the extension is thin',
    inside: /^extension\//,
    forbidden: /^(language\/src|langium|thou\/)/,
    reason: 'all knowledge lives in the server, so that every editor has it',
  },
];

export interface Import {
  readonly file: string;
  readonly to: string;
  readonly typeOnly: boolean;
}

const statement =
  /(?:^|\n)\s*(?:import|export)\s+(type\s+)?(?:[^'";]*?from\s+)?['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]\s*\)/g;

/** Imports of one file, resolved to paths from the top of the repository where they are relative. */
export function importsOf(file: string, text: string): Import[] {
  return [...text.matchAll(statement)].map((match) => {
    const written = match[2] ?? match[3] ?? '';
    return { file, to: target(file, written), typeOnly: match[1] !== undefined };
  });
}

function target(file: string, written: string): string {
  if (written.startsWith('.')) return posix.normalize(posix.join(posix.dirname(file), written));
  if (isBuiltin(written) && !written.startsWith('node:')) return `node:${written}`;
  return written.replace(/^@thou\/shared\//, 'shared/src/');
}

/** Sentences for every import that goes through a wall. */
export function breaches(imports: readonly Import[]): string[] {
  return imports.flatMap(({ file, to, typeOnly }) =>
    walls
      .filter((wall) => wall.inside.test(file) && wall.forbidden.test(to) && !(wall.typesMayPass && typeOnly))
      .map((wall) => `${file} imports ${to}: ${wall.name}. ${wall.reason}`),
  );
}

export const top = join(import.meta.dirname, '../..');

/** Every TypeScript source under a folder, as paths from the top. */
export function sourcesUnder(folder: string): string[] {
  return readdirSync(join(top, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => relative(top, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .filter((file) => !file.includes('node_modules/') && !file.includes('/dist/'));
}

export function textOf(file: string): string {
  return readFileSync(join(top, file), 'utf8');
}
