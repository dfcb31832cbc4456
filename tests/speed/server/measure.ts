/** One server, one size of text: how long from an edit to the diagnostics that reflect it, and to answers to questions. In milliseconds. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Client } from './client.ts';
import { addressIn, type Subject } from './subjects.ts';

export interface Spread {
  readonly median: number;
  readonly p95: number;
}
export interface Measured {
  readonly edit: Spread;
  readonly hover: Spread | null;
  readonly completion: Spread | null;
}

const warmUps = 6;

export function spreadOf(times: readonly number[]): Spread {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (part: number): number => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))]!;
  return { median: at(0.5), p95: at(0.95) };
}

/** A server with the text open and its first diagnostics out; `whole`: all of them. */
export async function opened(
  subject: Subject,
  work: string,
  lines: number,
  { flags = [], whole = true }: { readonly flags?: readonly string[]; readonly whole?: boolean } = {},
): Promise<Client> {
  const { text } = subject.text(lines);
  writeFileSync(join(work, subject.file), text);
  const uri = addressIn(work, subject.file);
  const client = new Client([...flags, ...subject.command]);
  await client.start(addressIn(work, ''), subject.pull, subject.options);
  subject.prepare?.(client);
  const first = subject.pull ? null : client.published(uri, () => true);
  const all = whole && subject.whole !== undefined ? client.told(subject.whole) : null;
  client.open(uri, subject.language, text);
  if (first) await first;
  else await client.request('textDocument/diagnostic', { textDocument: { uri } });
  await all;
  return client;
}

export async function startOf(subject: Subject, work: string, lines: number): Promise<number> {
  const start = performance.now();
  const client = await opened(subject, work, lines, { whole: false });
  const time = performance.now() - start;
  await client.stop();
  return time;
}

/** Changes the text to and fro; every edit is answered before the next. */
export async function edits(
  subject: Subject,
  client: Client,
  work: string,
  lines: number,
  rounds: number,
): Promise<number[]> {
  const edited = subject.text(lines);
  const uri = addressIn(work, subject.file);
  const times: number[] = [];
  for (let round = 0; round < rounds; round++) {
    const isBad = round % 2 === 0;
    const [before, after] = isBad ? [edited.good, edited.bad] : [edited.bad, edited.good];
    const start = performance.now();
    const answer = subject.pull
      ? null
      : client.published(uri, (published) => subject.reflects(published, edited, isBad));
    client.edit(uri, edited.line, edited.from, edited.from + before.length, after);
    if (answer) await answer;
    else {
      const { items } = (await client.request('textDocument/diagnostic', { textDocument: { uri } })) as {
        readonly items: readonly { readonly message: string }[];
      };
      if (!subject.reflects({ uri, diagnostics: items }, edited, isBad))
        throw new Error(`${subject.name} missed an edit`);
    }
    times.push(performance.now() - start);
  }
  return times;
}

export async function measure(subject: Subject, work: string, lines: number, rounds: number): Promise<Measured> {
  const client = await opened(subject, work, lines);
  await edits(subject, client, work, lines, warmUps);
  const times = await edits(subject, client, work, lines, rounds);
  const { line, from } = subject.text(lines);
  const question = { textDocument: { uri: addressIn(work, subject.file) }, position: { line, character: from + 1 } };
  const asked = async (method: string): Promise<Spread> => {
    const each: number[] = [];
    for (let round = 0; round < warmUps + rounds; round++) {
      const start = performance.now();
      await client.request(method, question);
      each.push(performance.now() - start);
    }
    return spreadOf(each.slice(warmUps));
  };
  const hover = client.capabilities['hoverProvider'] ? await asked('textDocument/hover') : null;
  const completion = client.capabilities['completionProvider'] ? await asked('textDocument/completion') : null;
  await client.stop();
  return { edit: spreadOf(times), hover, completion };
}
