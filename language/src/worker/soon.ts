// Work for when the messages at hand are through. A timer would wait for milliseconds each time.
const waiting = new Map<number, () => void>();
const { port1, port2 } = new MessageChannel();
let last = 0;

port1.onmessage = ({ data }: MessageEvent<number>) => {
  const work = waiting.get(data);
  waiting.delete(data);
  work?.();
};

/** The answer takes it back. */
export function soon(work: () => void): () => void {
  const id = ++last;
  waiting.set(id, work);
  port2.postMessage(id);
  return () => void waiting.delete(id);
}
