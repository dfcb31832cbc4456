/** From findings in trees to problems in files: offsets, wording, related places, fixes as edits of text. */
import type { AstNode } from 'langium';
import { blockRootOf, isCurrent, rangeOf, type ParsedBlock, type SourceFile } from '../../grammar/file.ts';
import type { PlanProblem } from '../plan/outcome.ts';
import { messages, wording, type Code, type Severity } from './messages.ts';
import type { Finding, Target } from './report.ts';

export interface TextPlace {
  readonly uri: string;
  /** UTF-16 offsets in the file. */
  readonly start: number;
  readonly end: number;
}

export interface ProblemFix {
  readonly title: string;
  readonly edits: readonly (TextPlace & { readonly text: string })[];
}

export interface Problem extends TextPlace {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly related: readonly (TextPlace & { readonly message: string })[];
  readonly fixes: readonly ProblemFix[];
}

/** What is said twice of one place counts once. */
export function sameSaid({ start, end, code, message }: Problem): string {
  return `${start} ${end} ${code} ${message}`;
}

interface PlaceInBlock {
  readonly root: ParsedBlock;
  readonly start: number;
  readonly end: number;
}
/** Where a thing stands in a block is found once. */
const inBlock = new WeakMap<AstNode, Map<string, PlaceInBlock>>();

function placeInBlock({ at, property, index }: Target): PlaceInBlock {
  const places = inBlock.get(at) ?? new Map<string, PlaceInBlock>();
  inBlock.set(at, places);
  const key = `${property ?? ''} ${index ?? ''}`;
  const known = places.get(key);
  if (known && isCurrent(known.root)) return known;
  const written = property === undefined ? undefined : (at as AstNode & Record<string, unknown>)[property];
  const { start, end } =
    property === undefined
      ? rangeOf(at)
      : rangeOf(Array.isArray(written) && index !== undefined ? { node: at, property, index } : { node: at, property });
  const place = { root: blockRootOf(at), start, end };
  places.set(key, place);
  return place;
}

export class Places {
  private readonly source: (uri: string) => SourceFile | undefined;
  /** Holds no tree of a file that was let go. */
  private readonly offsets = new Map<string, WeakMap<ParsedBlock, number>>();

  constructor(source: (uri: string) => SourceFile | undefined) {
    this.source = source;
  }

  place(target: Target): TextPlace {
    const { root, start, end } = placeInBlock(target);
    const base = this.offsetOf(target.uri, root);
    return { uri: target.uri, start: base + start, end: base + end };
  }

  private offsetOf(uri: string, root: ParsedBlock): number {
    let offsets = this.offsets.get(uri);
    if (!offsets) {
      offsets = new WeakMap((this.source(uri)?.blocks ?? []).map(({ offset, parsed }) => [parsed, offset]));
      this.offsets.set(uri, offsets);
    }
    return offsets.get(root) ?? 0;
  }

  ofText(file: SourceFile): Problem[] {
    return file.problems.map((problem) => ({
      uri: file.uri,
      code: problem.code,
      severity: problem.severity,
      message: problem.message,
      start: problem.start,
      end: problem.end,
      related: [],
      fixes: problem.fix
        ? [{ title: problem.fix.title, edits: problem.fix.edits.map((edit) => ({ ...edit, uri: file.uri })) }]
        : [],
    }));
  }

  ofFinding(finding: Finding): Problem {
    const related = finding.related.map(({ target, words }) => ({ ...this.place(target), message: words }));
    const fixes = finding.fixes.map(({ title, edits }) => ({
      title,
      edits: edits.map(({ target, text, place }) => {
        const at = this.place(target);
        if (place === 'top') return { uri: at.uri, start: 0, end: 0, text };
        return place === 'after' ? { ...at, start: at.end, text } : { ...at, text };
      }),
    }));
    return {
      ...this.place(finding.target),
      code: finding.code,
      severity: messages[finding.code].severity,
      message: wording(finding.code, finding.args),
      related,
      fixes,
    };
  }

  ofPlan(problem: PlanProblem): Problem {
    const related = problem.related.map((origin) => ({ ...this.place(origin), message: 'see here' }));
    const message = problem.code in messages ? wording(problem.code as Code, problem.args) : problem.code;
    return {
      ...this.place(problem.origin),
      code: problem.code,
      severity: problem.severity,
      message,
      related,
      fixes: [],
    };
  }
}
