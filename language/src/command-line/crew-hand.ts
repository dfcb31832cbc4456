// One thread of a crew: works on the pieces that it is given, one after the other.
import { enableCompileCache } from 'node:module';
import { parentPort, workerData } from 'node:worker_threads';
import type { Said, Work } from './crew.ts';

// before anything else is loaded: what the main thread compiled is there
enableCompileCache();
const [{ works }, { Refusal }] = await Promise.all([import('./works.ts'), import('./refusal.ts')]);

const { name, how } = workerData as { readonly name: string; readonly how: unknown };
const work = works.get(name) as Work<unknown, unknown, unknown>;
const doPiece = work.begin(how);

parentPort!.on('message', ({ at, piece }: { readonly at: number; readonly piece: unknown }) => {
  parentPort!.postMessage(saidOf(at, piece));
});

function saidOf(at: number, piece: unknown): Said {
  try {
    return { at, done: doPiece(piece) };
  } catch (problem) {
    if (problem instanceof Refusal) return { at, refused: problem.message };
    const { name: called, stack = '' } = problem instanceof Error ? problem : new Error(String(problem));
    return { at, failed: { name: called, stack } };
  }
}
