// Many pieces of one kind of work, shared out among threads where that is quicker. What comes back stands in the order of the pieces.
import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { Refusal } from './refusal.ts';

/** How, pieces and what is done of them pass between threads: plain records only. */
export interface Work<How, Piece, Done> {
  /** By which the threads find it in `works.ts`. */
  readonly name: string;
  /** Set up once, for many pieces; keeps no more of one when it goes to the next. */
  readonly begin: (how: How) => (piece: Piece) => Done;
}

/** What a thread says of one piece. */
export type Said =
  | { readonly at: number; readonly done: unknown }
  | { readonly at: number; readonly refused: string }
  | { readonly at: number; readonly failed: { readonly name: string; readonly stack: string } };

/** So many pieces repay the start of a thread. */
const worthAThread = 24;
const hand = new URL('./crew-hand.ts', import.meta.url);

/** `keep`: what is to be held of each until all are there. */
export async function sharedOut<How, Piece, Done, Kept>(
  work: Work<How, Piece, Done>,
  how: How,
  pieces: readonly Piece[],
  keep: (done: Done) => Kept,
): Promise<Kept[]> {
  const hands = Math.min(availableParallelism(), Math.floor(pieces.length / worthAThread));
  // where all is one file there is none for a thread
  if (hands < 2 || !existsSync(hand)) {
    const doPiece = work.begin(how);
    return pieces.map((piece) => keep(doPiece(piece)));
  }
  return inThreads(work.name, how, pieces, hands, (done) => keep(done as Done));
}

function inThreads<Kept>(
  name: string,
  how: unknown,
  pieces: readonly unknown[],
  hands: number,
  keep: (done: unknown) => Kept,
): Promise<Kept[]> {
  const crew = Array.from({ length: hands }, () => {
    return new Worker(hand, { workerData: { name, how } });
  });
  const kept: Kept[] = [];
  let [given, left] = [0, pieces.length];
  return new Promise<Kept[]>((finish, fail) => {
    for (const one of crew) {
      const give = (): void => {
        if (given < pieces.length) one.postMessage({ at: given, piece: pieces[given++] });
      };
      one.on('error', fail);
      one.on('message', (said: Said) => {
        if (!('done' in said)) return fail(asProblem(said));
        kept[said.at] = keep(said.done);
        left -= 1;
        if (left === 0) finish(kept);
        else give();
      });
      give();
    }
  }).finally(() => Promise.all(crew.map((one) => one.terminate())));
}

function asProblem(said: Exclude<Said, { readonly done: unknown }>): Error {
  if ('refused' in said) return new Refusal(said.refused);
  return Object.assign(new Error(), said.failed);
}
