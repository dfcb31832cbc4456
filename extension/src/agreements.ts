/** What client and server agree on at the start beyond the protocol: commands that the server may name, and what can be asked for where it runs. */
import { showFindingsCommand, showUsesCommand } from '@thou/shared/protocol-checks';
import { commands } from 'vscode';
import type { StaticFeature } from 'vscode-languageclient';

export const agreements: StaticFeature = {
  fillClientCapabilities(capabilities) {
    const before = (capabilities.experimental ?? {}) as Record<string, unknown>;
    capabilities.experimental = { ...before, commands: { commands: [showFindingsCommand, showUsesCommand] } };
  },
  initialize({ experimental }) {
    const { commits } = (experimental ?? {}) as { commits?: unknown };
    void commands.executeCommand('setContext', 'thou.commits', commits === true);
  },
  getState: () => ({ kind: 'static' }),
  clear: () => undefined,
};
