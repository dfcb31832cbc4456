/** What server and editor say to each other about the checks of a build one by one: for lists of them, for tests, for fixes that are looked at first. */

interface Document {
  readonly textDocument: { readonly uri: string };
}
interface Place {
  readonly line: number;
  readonly character: number;
}
interface Stretch {
  readonly start: Place;
  readonly end: Place;
}
export interface Where {
  readonly uri: string;
  readonly range: Stretch;
}

/** Commands that the editor may have, for what stands above a build or a part; it names them among its capabilities (`experimental.commands.commands`). */
export const showFindingsCommand = 'thou.showFindings';
export const showUsesCommand = 'thou.showUses';

/** Asks which files of the folders have builds; nothing is worked out for it. */
export const buildFilesMethod = 'thou/buildFiles';

export interface BuildFile {
  readonly uri: string;
  readonly builds: readonly { readonly name: string; readonly range: Stretch }[];
}

/** Asks how every check of a file stands, and what is due. */
export const standingMethod = 'thou/standing';

export type StandingAsked = Document;

export interface CheckTold {
  /** The same as long as the check is written the same; each once in a build. */
  readonly id: string;
  readonly label: string;
  readonly state: 'holds' | 'accepted' | 'at-risk' | 'out' | 'cannot-tell';
  readonly stateWords: string;
  /** One sentence; for what does not hold with all there is to be said, a line each. */
  readonly words: string;
  readonly where: Where;
}
export interface DueTold {
  /** `plate.width[3]` */
  readonly figure: string;
  readonly label: string;
  readonly about: string;
  readonly where: Where;
}
export interface BuildTold {
  readonly name: string;
  readonly where: Where;
  /** In the order of the rules; what does not apply is left out. */
  readonly checks: readonly CheckTold[];
  /** Those among them that do not hold, the worst first. */
  readonly findings: readonly string[];
  readonly toMeasure: readonly DueTold[];
  readonly toOrder: readonly DueTold[];
}

/** Asks what can be done about a place, without doing it. */
export const fixesMethod = 'thou/fixes';

export interface FixesAsked extends Document {
  readonly range: Stretch;
}
export interface FixTold {
  readonly title: string;
  /** What else comes of it, a line each. */
  readonly follows: readonly string[];
  readonly edits: readonly { readonly range: Stretch; readonly newText: string }[];
  /** The whole text with the fix in it. */
  readonly text: string;
}

export type TextTold = { readonly text: string } | { readonly problem: string };

/** Asks for the commits in which a file was changed, the newest first. Only a server that can read them answers. */
export const commitsMethod = 'thou/commits';

export type CommitsAsked = Document;
export type CommitsTold = { readonly commits: readonly Commit[] } | { readonly problem: string };

export interface Commit {
  readonly name: string;
  /** `2026-03-02 14:05` */
  readonly when: string;
  readonly subject: string;
}

/** Asks what changed since one of them, as a text. */
export const changesMethod = 'thou/changes';

export interface ChangesAsked extends Document {
  readonly since: string;
}
