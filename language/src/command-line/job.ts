// One look at one or more files: project, library and names of files put together for the commands.
import { pathToFileURL } from 'node:url';
import { filesOf } from '../report/place.ts';
import type { Files } from '../report/place.ts';
import { problemsOfOutcomes } from '../report/problems.ts';
import type { Outcome } from '../semantics/plan/outcome.ts';
import { Places } from '../semantics/problems/places.ts';
import type { Problem } from '../semantics/problems/places.ts';
import type { Texts } from '../semantics/solve/shelf.ts';
import { Project } from '../semantics/project.ts';
import type { FileResult, Host } from '../semantics/project.ts';
import { JobFiles, nameFromHere, rootFor, startFile } from './files.ts';
import { readLibrary } from './library.ts';
import type { Library } from './library.ts';
import { Refusal } from './refusal.ts';

export interface Looked {
  readonly uri: string;
  readonly result: FileResult;
  /** Of the text and of the builds, in the order of the text. */
  readonly problems: readonly Problem[];
}

/** Texts under one root. */
export type JobHost = Host & { readonly root: string };

/** Files under one root, looked at together: what they share is read once. */
export class Job {
  readonly library: Library;
  readonly files: Files;
  readonly root: string;
  private readonly host: JobHost;
  private readonly project: Project;
  private readonly places: Places;

  /** `host`: where texts are found, if not on the disk. */
  constructor(root: string, host: JobHost = new JobFiles(root)) {
    this.library = readLibrary();
    this.host = host;
    this.root = this.host.root;
    this.project = new Project(this.host, this.library.text);
    const source = (uri: string) => this.project.source(uri);
    this.files = filesOf(source, nameFromHere);
    this.places = new Places(source);
  }

  uriOf(path: string): string {
    return pathToFileURL(path).href;
  }

  look(path: string): Looked {
    const uri = this.uriOf(path);
    const result = this.project.check(uri);
    const found = problemsOfOutcomes(uri, result.outcomes, this.places, this.files);
    const problems = [...result.problems, ...found].sort((a, b) => a.start - b.start || a.end - b.end);
    return { uri, result, problems };
  }

  /** Builds are planned when somebody looks into them. */
  read(path: string): FileResult {
    return this.project.check(this.uriOf(path));
  }

  /** What was kept of a file for a second look goes. */
  leave(path: string): void {
    this.project.leave(this.uriOf(path));
  }

  /** As `look`, if the text of the file were another. */
  lookAtText(path: string, text: string): FileResult {
    const uri = this.uriOf(path);
    const trial = this.project.over({
      read: (at) => (at === uri ? text : this.host.read(at)),
      resolve: (from, to) => this.host.resolve(from, to),
    });
    return trial.check(uri);
  }

  /** Parts that a file sees. */
  get texts(): Texts {
    return { source: (uri) => this.source(uri), resolve: (from, to) => this.host.resolve(from, to) };
  }

  /** What the trade library alone says. */
  emptyLook(): FileResult {
    return this.project.check('thou:nothing');
  }

  text(uri: string): string {
    return this.source(uri)?.text ?? '';
  }

  source(uri: string): ReturnType<Project['source']> {
    return this.project.source(uri);
  }
}

/** A job for the one file that a command was given. */
export function jobFor(path: string, root: string | undefined): { readonly job: Job; readonly path: string } {
  const real = startFile(path);
  return { job: new Job(rootFor(real, root)), path: real };
}

/** The build that was asked for; all of them where none was named. */
export function buildsNamed(outcomes: readonly Outcome[], name: string | undefined, path: string): readonly Outcome[] {
  if (name === undefined) return outcomes;
  const found = outcomes.filter(({ binding }) => binding.name === name);
  if (found.length > 0) return found;
  const names = outcomes.map(({ binding }) => binding.name).join(', ');
  throw new Refusal(`"${path}" has no build "${name}"${names === '' ? '' : `; it has ${names}`}.`);
}
