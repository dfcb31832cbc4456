/** What a server that was started with `--inspect=0` holds, after everything loose was swept up. */
export async function heapOf(inspector: string): Promise<number> {
  const socket = new WebSocket(inspector);
  await new Promise((opened) => socket.addEventListener('open', opened, { once: true }));
  let next = 1;
  const ask = (method: string): Promise<Record<string, unknown>> => {
    const id = next++;
    const answer = new Promise<Record<string, unknown>>((found) => {
      socket.addEventListener('message', function hear({ data }: { readonly data: unknown }) {
        const message = JSON.parse(String(data)) as { id?: number; result?: Record<string, unknown> };
        if (message.id !== id) return;
        socket.removeEventListener('message', hear);
        found(message.result ?? {});
      });
    });
    socket.send(JSON.stringify({ id, method }));
    return answer;
  };
  await ask('HeapProfiler.enable');
  await ask('HeapProfiler.collectGarbage');
  const { usedSize } = await ask('Runtime.getHeapUsage');
  socket.close();
  return Number(usedSize);
}
