// `thou serve --stdio`: the language server beside an editor. Read only when it is asked for, so that other commands start without it.
import type { Command } from './command.ts';
import { Refusal } from './refusal.ts';

export const serveCommand: Command = {
  name: 'serve',
  takes: '--stdio',
  summary: 'answer an editor: the language server',
  note: 'Ends with the editor. Exit code 0 after it said goodbye, else 1.',
  options: [{ name: 'stdio', text: 'speak through the standard input and output' }],
  async run(args) {
    if (!args.has('stdio')) throw new Refusal('Say how the editor is spoken to: thou serve --stdio.');
    const { serve } = await import('./standard-streams.ts');
    return serve();
  },
};
