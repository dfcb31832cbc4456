// What a comparison keeps of the builds of one file.
import { condensed, type Condensed } from '../report/condensed.ts';
import type { Work } from './crew.ts';
import { Jobs } from './jobs.ts';

export const condensing: Work<string | undefined, string, readonly Condensed[]> = {
  name: 'compare',
  begin(root) {
    const jobs = new Jobs(root);
    return (path) =>
      jobs.once(path, (job) => {
        const { uri, outcomes } = job.read(path);
        return outcomes.map((outcome) => condensed(outcome, job.files.nameOf(uri)));
      });
  },
};
