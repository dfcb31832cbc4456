import { describe, expect, test } from 'vitest';
import { breaches, importsOf, sourcesUnder, textOf, walls } from './walls.ts';

const sources = ['shared/src', 'language/src', 'extension'].flatMap(sourcesUnder);

test('there are sources to look at', () => {
  expect(sources.length).toBeGreaterThan(100);
  expect(sources.flatMap((file) => importsOf(file, textOf(file))).length).toBeGreaterThan(400);
});

test('no import goes through a wall', () => {
  expect(sources.flatMap((file) => breaches(importsOf(file, textOf(file))))).toEqual([]);
});

describe('each wall bites', () => {
  // one bad file for every wall: a wall that lets it through is no wall
  const bad: readonly (readonly [wall: string, file: string, text: string])[] = [
    ['shared stands alone', 'shared/src/x.ts', "import { URI } from 'langium';"],
    ['shared stands alone', 'shared/src/x.ts', "import { readFileSync } from 'node:fs';"],
    ['the core is pure', 'language/src/semantics/x.ts', "import { readFileSync } from 'node:fs';"],
    ['the core is pure', 'language/src/semantics/x.ts', "import { readFileSync } from 'fs';"],
    ['the core is pure', 'language/src/format/x.ts', "const os = await import('node:os');"],
    ['the core is pure', 'language/src/grammar/x.ts', "export * from 'vscode-languageserver-types';"],
    ['the core is pure', 'language/src/report/x.ts', "import type { Hover } from 'vscode-languageserver';"],
    ['only the grammar runs the parser kit', 'language/src/report/x.ts', "import { AstUtils } from 'langium';"],
    [
      'the evaluator knows no names',
      'language/src/semantics/evaluate/x.ts',
      "import { Library } from '../names/library.ts';",
    ],
    [
      'the evaluator knows no names',
      'language/src/semantics/evaluate/x.ts',
      "import {\n  scope,\n} from '../schema/../names/scope.ts';",
    ],
    [
      'meaning does not know its readers',
      'language/src/semantics/plan/x.ts',
      "import { sheet } from '../../report/sheet.ts';",
    ],
    ['certainty judges nothing', 'language/src/semantics/certainty/x.ts', "import { judge } from '../check/judge.ts';"],
    ['the grammar knows no meaning', 'language/src/grammar/x.ts', "import { Project } from '../semantics/project.ts';"],
    [
      'formatting needs only the text',
      'language/src/format/x.ts',
      "import { Project } from '../semantics/project.ts';",
    ],
    ['reports run without a terminal', 'language/src/report/x.ts', "import { main } from '../command-line/main.ts';"],
    ['services run anywhere', 'language/src/services/x.ts', "import { readFileSync } from 'node:fs';"],
    [
      'services run anywhere',
      'language/src/services/x.ts',
      "import { createConnection } from 'vscode-languageserver/node';",
    ],
    [
      'services run anywhere',
      'language/src/services/x.ts',
      "import { readLibrary } from '../command-line/library.ts';",
    ],
    ['nothing leans on services', 'language/src/report/x.ts', "import { toRange } from '../services/positions.ts';"],
    ['only its entry knows Node', 'language/src/worker/x.ts', "import { readFileSync } from 'node:fs';"],
    ['only its entry knows Node', 'language/src/x.ts', "import { version } from './command-line/version.ts';"],
    ['the worker is an entry', 'language/src/services/x.ts', "import { soon } from '../worker/soon.ts';"],
    ['the client runs anywhere', 'extension/src/sheet/x.ts', "import { randomBytes } from 'node:crypto';"],
    ['the client runs anywhere', 'extension/src/browser/x.ts', "import { activate } from '../desktop/main.ts';"],
    ['the client runs anywhere', 'extension/src/x.ts', "import { LanguageClient } from 'vscode-languageclient/node';"],
    [
      'the extension is thin',
      'extension/src/x.ts',
      "import { Project } from '../../language/src/semantics/project.ts';",
    ],
  ];

  test.each(bad)('%s: %s', (wall, file, text) => {
    expect(breaches(importsOf(file, text)).join('\n')).toContain(wall);
  });

  test('none is left out', () => {
    expect(walls.map(({ name }) => name).filter((name) => !bad.some(([wall]) => wall === name))).toEqual([]);
  });

  test('types may pass where that is allowed', () => {
    expect(breaches(importsOf('language/src/report/x.ts', "import type { AstNode } from 'langium';"))).toEqual([]);
  });
});
