// Jobs by the folders that they may read, for a command that looks at many files: one file is held at a time.
import { rootFor } from './files.ts';
import { Job } from './job.ts';

export class Jobs {
  private readonly asked: string | undefined;
  private readonly jobs = new Map<string, Job>();

  /** `asked`: the root that was named, for all of the files. */
  constructor(asked: string | undefined) {
    this.asked = asked;
  }

  /** Looks into one file and lets it go; files of one root share what they use. */
  once<T>(path: string, look: (job: Job) => T): T {
    const folder = rootFor(path, this.asked);
    const job = this.jobs.get(folder) ?? new Job(folder);
    this.jobs.set(folder, job);
    const found = look(job);
    job.leave(path);
    return found;
  }
}
