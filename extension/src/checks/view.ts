/** What does not hold, what is to be measured and what to be ordered, of the file that shows; a click leads to the text. */
import type { BuildTold, CheckTold, DueTold, Where } from '@thou/shared/protocol-checks';
import {
  Disposable,
  EventEmitter,
  l10n,
  ThemeColor,
  ThemeIcon,
  TreeItem,
  TreeItemCollapsibleState,
  window,
  type TreeDataProvider,
  type TreeView,
} from 'vscode';
import type { Outcomes } from './outcomes.ts';

export const jobView = 'thou.job';

interface Section {
  readonly is: 'section';
  readonly build: BuildTold;
  readonly of: 'findings' | 'toMeasure' | 'toOrder';
}
interface Leaf {
  readonly is: 'check' | 'measure' | 'order';
  readonly build: string;
  readonly uri: string;
  readonly of: CheckTold | DueTold;
}
export type JobNode = { readonly is: 'build'; readonly build: BuildTold } | Section | Leaf;

export class JobView implements TreeDataProvider<JobNode> {
  private readonly outcomes: Outcomes;
  private readonly changed = new EventEmitter<void>();
  private readonly tree: TreeView<JobNode>;
  private readonly listeners: Disposable;
  private uri: string | null;
  readonly onDidChangeTreeData = this.changed.event;

  constructor(outcomes: Outcomes) {
    this.outcomes = outcomes;
    this.uri = shown();
    this.tree = window.createTreeView(jobView, { treeDataProvider: this, showCollapseAll: true });
    this.listeners = Disposable.from(
      this.tree,
      this.changed,
      outcomes.onChanged((uri) => uri === this.uri && this.changed.fire()),
      window.onDidChangeActiveTextEditor(() => this.follow()),
    );
  }

  dispose(): void {
    this.listeners.dispose();
  }

  /** A build of a file, from what stands above it in the text. */
  async show(uri: string, build: string): Promise<void> {
    this.uri = uri;
    this.changed.fire();
    const builds = await this.outcomes.of(uri);
    const found = builds.find(({ name }) => name === build);
    if (!found) return;
    const node = builds.length > 1 ? this.buildNode(found) : this.sectionsOf(found)[0];
    if (node) await this.tree.reveal(node, { expand: true, focus: true });
  }

  /** A text that is none of ours leaves the last one standing. */
  private follow(): void {
    const uri = shown();
    if (uri === null || uri === this.uri) return;
    this.uri = uri;
    this.changed.fire();
  }

  async getChildren(node?: JobNode): Promise<JobNode[]> {
    if (!node) {
      const builds = this.uri === null ? [] : await this.outcomes.of(this.uri);
      const [only] = builds;
      if (only && builds.length === 1) return this.sectionsOf(only);
      return builds.map((build) => this.buildNode(build));
    }
    if (node.is === 'build') return this.sectionsOf(node.build);
    if (node.is !== 'section') return [];
    const { build } = node;
    const leaf = (is: Leaf['is'], of: Leaf['of']): Leaf => ({ is, build: build.name, uri: build.where.uri, of });
    if (node.of === 'toMeasure') return build.toMeasure.map((due) => leaf('measure', due));
    if (node.of === 'toOrder') return build.toOrder.map((due) => leaf('order', due));
    return build.findings.flatMap((id) =>
      build.checks.filter((check) => check.id === id).map((check) => leaf('check', check)),
    );
  }

  getParent(node: JobNode): JobNode | null {
    return node.is === 'section' ? this.buildNode(node.build) : null;
  }

  getTreeItem(node: JobNode): TreeItem {
    switch (node.is) {
      case 'build':
        return withId(new TreeItem(node.build.name, TreeItemCollapsibleState.Expanded), node.build.name);
      case 'section':
        return sectionItem(node);
      default:
        return leafItem(node);
    }
  }

  private buildNode(build: BuildTold): JobNode {
    return { is: 'build', build };
  }

  private sectionsOf(build: BuildTold): JobNode[] {
    return (['findings', 'toMeasure', 'toOrder'] as const).map((of) => ({ is: 'section', build, of }));
  }
}

function shown(): string | null {
  const document = window.activeTextEditor?.document;
  return document?.languageId === 'thou' ? document.uri.toString() : null;
}

function sectionItem({ build, of }: Section): TreeItem {
  const count = build[of].length;
  const titles = { findings: l10n.t('Findings'), toMeasure: l10n.t('To measure'), toOrder: l10n.t('To order') };
  const state =
    count === 0
      ? TreeItemCollapsibleState.None
      : of === 'toMeasure'
        ? TreeItemCollapsibleState.Collapsed
        : TreeItemCollapsibleState.Expanded;
  const item = withId(new TreeItem(titles[of], state), `${build.name}/${of}`);
  item.description = count === 0 ? l10n.t('none') : String(count);
  item.contextValue = of;
  return item;
}

function leafItem({ is, build, of }: Leaf): TreeItem {
  const item = new TreeItem(of.label, TreeItemCollapsibleState.None);
  if ('words' in of) {
    item.id = `${build}/findings/${of.id}`;
    item.description = of.stateWords;
    item.tooltip = of.words;
    item.iconPath = icons[of.state];
    item.accessibilityInformation = { label: `${of.stateWords}: ${of.label}` };
  } else {
    item.id = `${build}/${is}/${of.figure}/${of.label}`;
    item.description = of.about;
    item.tooltip = [of.label, of.figure, of.about].filter((line) => line !== '').join('\n');
    item.iconPath = new ThemeIcon(is === 'measure' ? 'dashboard' : 'package');
  }
  item.contextValue = is;
  item.command = {
    command: 'thou.showPlace',
    title: l10n.t('Show in the text'),
    arguments: [of.where satisfies Where],
  };
  return item;
}

const icons: Readonly<Record<CheckTold['state'], ThemeIcon>> = {
  out: new ThemeIcon('error', new ThemeColor('list.errorForeground')),
  'at-risk': new ThemeIcon('warning', new ThemeColor('list.warningForeground')),
  accepted: new ThemeIcon('pass'),
  holds: new ThemeIcon('check'),
  'cannot-tell': new ThemeIcon('question'),
};

function withId(item: TreeItem, id: string): TreeItem {
  item.id = id;
  return item;
}
