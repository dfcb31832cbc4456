/** What both ways in share: starts the server, wires commands and status to it. Knows nothing of the language, nor where it runs. */
import { commands, Uri, window, workspace, type ExtensionContext, type WebviewPanel } from 'vscode';
import { beginningCommands } from './beginnings.ts';
import { checks } from './checks/checks.ts';
import type { Launch } from './launch.ts';
import { readings } from './readings/readings.ts';
import { checkTasks } from './tasks.ts';
import { Pages } from './pages.ts';
import { reportCommands } from './reports/commands.ts';
import { ReportDocuments } from './reports/documents.ts';
import { keptBy, SheetPanel, sheetView } from './sheet/panel.ts';
import { keepPagesIn } from './sheet/print.ts';
import { Server } from './server.ts';
import { registerTools } from './tools.ts';
import { BuildStatusItem } from './build-status-item.ts';

let server: Server | undefined;

export async function activateWith(context: ExtensionContext, launch: Launch): Promise<void> {
  const log = window.createOutputChannel('Thou', { log: true });
  const status = new BuildStatusItem();
  server = new Server(launch, log, status);
  const running = server;
  const reports = new ReportDocuments(running);
  const media = Uri.joinPath(context.extensionUri, 'dist/view');
  keepPagesIn(context.globalStorageUri);
  context.subscriptions.push(
    log,
    status,
    checks(running),
    checkTasks(),
    readings(running, context.globalState),
    commands.registerCommand('thou.restartServer', () => running.restart()),
    commands.registerCommand('thou.showLog', () => log.show()),
    workspace.registerTextDocumentContentProvider(Pages.scheme, new Pages(context.extensionUri)),
    reports,
    ...reportCommands(reports),
    ...beginningCommands(context, running),
    ...registerTools(running),
    commands.registerCommand('thou.openSheet', () => void SheetPanel.beside(running, media)),
    commands.registerCommand('thou.printSheet', () => SheetPanel.print()),
    window.registerWebviewPanelSerializer(sheetView, {
      async deserializeWebviewPanel(panel: WebviewPanel, state: unknown) {
        const kept = keptBy(state);
        if (kept) new SheetPanel(panel, running, media, kept);
        else panel.dispose();
      },
    }),
  );
  // only now do the commands show in the palette
  await commands.executeCommand('setContext', 'thou.active', true);
  await running.start();
}

export async function deactivate(): Promise<void> {
  await server?.stop();
}
