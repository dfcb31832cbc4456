// Fixes that a problem of the text brings with it, and those of them that may be made all at once.
import type { Problem, ProblemFix } from '../../semantics/problems/places.ts';

export function titleOfSlip(fix: ProblemFix, text: string): string {
  const [edit] = fix.edits;
  const isName = fix.edits.length === 1 && edit !== undefined && edit.text.trim() === fix.title;
  if (!isName) return fix.title.charAt(0).toUpperCase() + fix.title.slice(1);
  const old = text.slice(edit.start, edit.end).trim();
  return old === '' ? `Write ${fix.title}` : `Write ${fix.title} instead of ${old.length > 30 ? 'this' : old}`;
}

/** What is meant is certain, and no figure is touched. */
export function isSafe({ code, fixes }: Problem, text: string): boolean {
  if (code === 'use.no-edition') return true;
  const [only] = fixes;
  if (only === undefined || fixes.length !== 1) return false;
  return only.edits.every((edit) => !/\d/.test(edit.text) && !/\d/.test(text.slice(edit.start, edit.end)));
}
