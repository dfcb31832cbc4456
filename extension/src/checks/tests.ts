/**
 * Checks as tests: a file, its builds, their checks, each looked up when it is opened. Holds is passed, out of limits is failed; what is
 * at risk or cannot be told is skipped: it is neither. Running is asking again; what the server says after an edit is shown without it.
 */
import { buildFilesMethod, type BuildFile, type BuildTold, type CheckTold } from '@thou/shared/protocol-checks';
import {
  Disposable,
  l10n,
  TestRunProfileKind,
  TestRunRequest,
  tests,
  Uri,
  workspace,
  type CancellationToken,
  type TestController,
  type TestItem,
  type TestRun,
} from 'vscode';
import { rangeOf } from '../places.ts';
import type { Server } from '../server.ts';
import type { Outcomes } from './outcomes.ts';

export class CheckTests {
  private readonly server: Server;
  private readonly outcomes: Outcomes;
  private readonly controller: TestController;
  private readonly disposables: Disposable[];
  private readonly passedOver = new Set<string>();
  private isListed = false;
  /** Files whose builds have been looked at. */
  private readonly opened = new Set<string>();

  constructor(server: Server, outcomes: Outcomes) {
    this.server = server;
    this.outcomes = outcomes;
    this.controller = tests.createTestController('thou', l10n.t('Thou: checks'));
    this.controller.resolveHandler = (item) => (item ? this.open(fileOf(item)) : this.list());
    this.controller.refreshHandler = () => this.refresh();
    const profile = this.controller.createRunProfile(
      l10n.t('Ask again'),
      TestRunProfileKind.Run,
      (request, token) => this.run(request, token),
      true,
    );
    this.disposables = [this.controller, profile, outcomes.onChanged((uri) => void this.changed(uri))];
  }

  dispose(): void {
    Disposable.from(...this.disposables).dispose();
  }

  /** Files that have builds; none of them is looked into. */
  private async list(): Promise<void> {
    const files = (await this.server.ask<readonly BuildFile[]>(buildFilesMethod, {})) ?? [];
    const items = files.map(({ uri, builds }) => {
      const known = this.controller.items.get(uri);
      if (known) return known;
      const address = Uri.parse(uri);
      const item = this.controller.createTestItem(uri, workspace.asRelativePath(address), address);
      item.canResolveChildren = true;
      item.description = builds.map(({ name }) => name).join(', ');
      return item;
    });
    this.controller.items.replace(items);
    this.isListed = true;
    for (const uri of this.opened) if (!files.some((file) => file.uri === uri)) this.opened.delete(uri);
  }

  private async refresh(): Promise<void> {
    this.passedOver.clear();
    await this.list();
    for (const uri of this.opened) this.outcomes.forget(uri);
  }

  private async open(file: TestItem): Promise<void> {
    this.opened.add(file.id);
    await this.show(file, await this.outcomes.of(file.id));
  }

  private async changed(uri: string): Promise<void> {
    const file = this.controller.items.get(uri);
    // a file that is new may have a build: asked once
    if (!file && this.isListed && !this.passedOver.has(uri)) {
      this.passedOver.add(uri);
      await this.list();
    }
    if (!file || !this.opened.has(uri)) return;
    await this.show(file, await this.outcomes.of(uri));
  }

  /** What stands is written beside each check; as a run that neither opens anything nor is kept. */
  private async show(file: TestItem, builds: readonly BuildTold[]): Promise<void> {
    this.lay(file, builds);
    const run = this.controller.createTestRun(
      new TestRunRequest([file], undefined, undefined, false, true),
      undefined,
      false,
    );
    this.tell(run, file, builds, null);
    run.end();
  }

  private lay(file: TestItem, builds: readonly BuildTold[]): void {
    const items = builds.map((build) => {
      const item = file.children.get(build.name) ?? this.item(build.name, build.name, build);
      item.range = rangeOf(build.where.range);
      const checks = build.checks.map((check) => {
        const id = `${build.name}/${check.id}`;
        const one = item.children.get(id) ?? this.item(id, check.label, check);
        one.range = rangeOf(check.where.range);
        one.label = check.label;
        one.description = check.stateWords;
        return one;
      });
      item.children.replace(checks);
      return item;
    });
    file.children.replace(items);
  }

  private item(id: string, label: string, { where }: Pick<CheckTold, 'where'>): TestItem {
    return this.controller.createTestItem(id, label, Uri.parse(where.uri));
  }

  private async run(request: TestRunRequest, token: CancellationToken): Promise<void> {
    if (!request.include) await this.list();
    const run = this.controller.createTestRun(request);
    const wanted = request.include ?? [...this.controller.items].map(([, item]) => item);
    const files = new Map(wanted.map((item) => [fileOf(item).id, fileOf(item)]));
    for (const file of files.values()) {
      if (token.isCancellationRequested) break;
      this.opened.add(file.id);
      this.outcomes.forget(file.id);
      const builds = await this.outcomes.of(file.id);
      this.lay(file, builds);
      const chosen = wanted.filter((item) => fileOf(item) === file);
      this.tell(run, file, builds, chosen.includes(file) ? null : new Set(chosen));
    }
    run.end();
  }

  /** Of the checks that are chosen, or stand below what is chosen; null: all. */
  private tell(run: TestRun, file: TestItem, builds: readonly BuildTold[], chosen: ReadonlySet<TestItem> | null): void {
    for (const build of builds) {
      const parent = file.children.get(build.name);
      for (const check of build.checks) {
        const item = parent?.children.get(`${build.name}/${check.id}`);
        if (!parent || !item || (chosen !== null && !chosen.has(item) && !chosen.has(parent))) continue;
        tellOne(run, item, check);
      }
    }
  }
}

function tellOne(run: TestRun, item: TestItem, { state, words }: CheckTold): void {
  // with no place: what holds is not to be written into the text
  run.appendOutput(`${words.replaceAll('\n', '\r\n')}\r\n\r\n`, undefined, item);
  if (state === 'holds' || state === 'accepted') return run.passed(item);
  if (state !== 'out') return run.skipped(item);
  // without a message: the editor would write it into the text, behind what is underlined with the same words
  run.failed(item, []);
}

function fileOf(item: TestItem): TestItem {
  return item.parent ? fileOf(item.parent) : item;
}
