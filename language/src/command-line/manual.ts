// `thou manual`: the reference of the trade library as Markdown.
import { manual } from '../report/manual.ts';
import type { Command } from './command.ts';
import { Job } from './job.ts';
import { exitCode, Refusal } from './refusal.ts';
import { writeTo } from './sheet.ts';

export const manualCommand: Command = {
  name: 'manual',
  takes: '',
  summary: 'the reference of the trade library: every property, formula, limit and rule with its source, as Markdown',
  options: [{ name: 'output', short: 'o', takes: 'FILE', text: 'write there; a file of that name is replaced' }],
  run(args, { out }) {
    if (args.given.length > 0) throw new Refusal('"thou manual" takes no file.');
    const job = new Job(process.cwd());
    const { chapters, text } = job.library;
    const { schema } = job.emptyLook();
    const written = manual(schema, { edition: text.edition, chapters, source: (uri) => job.source(uri) });
    const target = args.value('output');
    if (target === undefined) out.write(written);
    else writeTo(target, written, null);
    return exitCode.holds;
  },
};
