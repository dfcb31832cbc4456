/**
 * Collects what is wrong with a text, one finding for one mistake. Knows codes and places in trees;
 * wording lives in messages.ts, offsets are found when a file is shown.
 */
import type { AstNode } from 'langium';
import { caps } from '@thou/shared/limits';
import { nearest } from '@thou/shared/number/nearest';
import type { Code } from './messages.ts';
import { Names, type Thing } from './names.ts';

/** A place in a tree: the node, or one of its properties. */
export interface Target {
  readonly uri: string;
  readonly at: AstNode;
  readonly property?: string | undefined;
  readonly index?: number | undefined;
}

export interface Fix {
  readonly title: string;
  readonly edits: readonly {
    readonly target: Target;
    readonly text: string;
    readonly place: 'instead' | 'after' | 'top';
  }[];
}

/** One fix for each name that may be meant. */
export function insteadOf(target: Target, names: readonly string[]): Fix[] {
  return names.map((text) => ({ title: text, edits: [{ target, text, place: 'instead' }] }));
}

export interface Finding {
  readonly code: Code;
  readonly args: Readonly<Record<string, string>>;
  readonly target: Target;
  readonly related: readonly { readonly target: Target; readonly words: string }[];
  readonly fixes: readonly Fix[];
}

export interface More {
  readonly related?: readonly { readonly target: Target; readonly words: string }[];
  readonly fixes?: readonly Fix[];
}

export class Report {
  private searches = 0;
  private readonly seen = new Map<AstNode, Set<string>>();
  readonly findings: Finding[] = [];
  readonly names = new Names();

  /** The names that may be meant. Beyond what is shown of one file nobody reads them, and looking costs. */
  nearest(name: string, names: Iterable<string>): string[] {
    this.searches += 1;
    return this.searches > caps.findingsShown ? [] : nearest(name, names);
  }

  /** The same finding at the same place counts once: one declaration is read for every mount that uses it. */
  add(code: Code, target: Target, args: Readonly<Record<string, string>> = {}, more: More = {}): void {
    const key = `${code} ${target.property ?? ''} ${target.index ?? ''}`;
    const codes = this.seen.get(target.at) ?? new Set<string>();
    if (codes.has(key)) return;
    codes.add(key);
    this.seen.set(target.at, codes);
    this.findings.push({ code, args, target, related: more.related ?? [], fixes: more.fixes ?? [] });
  }

  /** A word that was understood. */
  means(at: Target, thing: Thing): void {
    this.names.note(at, thing);
  }
}

/** Swallows everything: for reading a text again that was reported on already. */
export class Silence extends Report {
  override add(): void {
    // reported where it is declared
  }

  override means(): void {
    // noted where it was read first
  }

  override nearest(): string[] {
    return [];
  }
}
