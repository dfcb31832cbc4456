/** The words that the language keeps are no unit and no name of the trade library. */
import { AstUtils } from 'langium';
import { describe, expect, it } from 'vitest';
import { standardUnits } from '@thou/shared/unit/unit';
import { reservedWords } from '@thou/shared/words';
import { parseFile } from '../../../language/src/grammar/file.ts';
import { itemsOf } from '../../../language/src/semantics/names/scope.ts';
import { builtins, builtinValues } from '../../../language/src/semantics/types/builtins.ts';
import { library } from '../../reference/library.ts';

/** Every name that the trade library declares: components, figures, axes and their places, choices, rules, functions, parts, locals. */
function namesOfLibrary(): Set<string> {
  const names = new Set<string>();
  for (const { uri, text } of library.files) {
    for (const item of itemsOf(parseFile(uri, text))) {
      for (const node of [item, ...AstUtils.streamAllContents(item)]) {
        const fields = node as unknown as Readonly<Record<string, unknown>>;
        if (!['RefStep', 'PathStep', 'TypeName'].includes(node.$type) && typeof fields.name === 'string')
          names.add(fields.name);
        if (node.$type === 'Type') for (const choice of fields.choices as string[]) names.add(choice);
        if (node.$type === 'Axis')
          for (const bound of fields.bounds as { steps?: { name: string }[] }[])
            if (bound.steps?.length === 1) names.add(bound.steps[0]!.name);
      }
    }
  }
  return names;
}

describe('reserved words', () => {
  it('are no unit', () => {
    const units = new Set(standardUnits.symbols());
    expect([...reservedWords].filter((word) => units.has(word))).toEqual([]);
  });

  it('are no name of the trade library', () => {
    const names = namesOfLibrary();
    expect(names.size).toBeGreaterThan(500);
    expect([...reservedWords].filter((word) => names.has(word))).toEqual([]);
  });

  it('are not also names of the language itself', () => {
    expect(
      [...builtins.keys(), ...builtinValues.keys()].filter((name) => reservedWords.has(name) && name !== 'measured'),
    ).toEqual([]);
  });

  it('words that always mean the same are no name of the trade library either', () => {
    const names = namesOfLibrary();
    expect([...builtinValues.keys()].filter((word) => names.has(word))).toEqual([]);
  });
});
