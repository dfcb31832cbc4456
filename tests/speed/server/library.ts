/** A thousand builds that use one library: an edit in the library against one in the build that is open. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Client } from './client.ts';
import { spreadOf, type Spread } from './measure.ts';
import { addressIn, type Subject } from './subjects.ts';

const shop =
  'practice "Speed" { quench-limits: 0.036..0.044 in }\npart SP-1: Gasket {\n  bore: 4.155 in\n  thickness: 0.039 in\n}\n';

function build(number: number): string {
  return `use prelude 1
use "shop.thou"

build engine-${number} {
  layout: inline-4
  redline: 7000 rpm
  block { bore: 4.125 in   deck-height: 9.240 in }
  crank.stroke: 4.000 in
  rod.length: 6.125 in
  piston { compression-height: 1.110 in, dish: 16.5 cc }
  head.chamber: 66 cc
  head-gasket: SP-1
  expect redline within <= 6500 rpm
}
`;
}

export async function libraryEdits(
  subject: Subject,
  folder: string,
  builds: number,
  rounds: number,
): Promise<{ readonly local: Spread; readonly library: Spread }> {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'shop.thou'), shop);
  for (let number = 1; number <= builds; number++) writeFileSync(join(folder, `engine-${number}.thou`), build(number));
  const client = new Client(subject.command);
  await client.start(addressIn(folder, ''), false, subject.options);
  const [open, library] = [addressIn(folder, 'engine-500.thou'), addressIn(folder, 'shop.thou')];
  const first = client.published(open, () => true);
  client.open(library, 'thou', shop);
  client.open(open, 'thou', build(500));
  await first;
  const to = async (uri: string, line: number, from: number, texts: readonly [string, string]): Promise<Spread> => {
    const times: number[] = [];
    for (let round = 0; round < rounds + 4; round++) {
      const [before, after] = round % 2 === 0 ? texts : [texts[1], texts[0]];
      const start = performance.now();
      const answer = client.published(open, () => true);
      client.edit(uri, line, from, from + before.length, after);
      await answer;
      times.push(performance.now() - start);
    }
    return spreadOf(times.slice(4));
  };
  const local = await to(open, 12, '  expect redline within <= '.length, ['6500', '6400']);
  const ofLibrary = await to(library, 3, '  thickness: '.length, ['0.039', '0.060']);
  await client.stop();
  return { local, library: ofLibrary };
}
