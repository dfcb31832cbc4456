/** Folders of this machine, and single pages, for a browser on this machine alone. */
import { createReadStream, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize } from 'node:path';

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.cjs': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
};

export interface StaticServer {
  readonly address: string;
  stop(): Promise<void>;
}

/** `folders` by the first part of the path; `page` is asked for what lies in none. `instead`: texts in place of single files. */
export async function serveFolders(
  folders: Readonly<Record<string, string>>,
  page: (path: string, address: string) => string | null,
  instead: Readonly<Record<string, string>> = {},
): Promise<StaticServer> {
  const server = createServer((request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://host').pathname));
    const [, first = '', rest = ''] = /^\/([^/]*)\/?(.*)$/s.exec(path) ?? [];
    const folder = folders[first];
    if (folder === undefined) {
      const text = page(path, request.headers.host ?? '');
      response.writeHead(text === null ? 404 : 200, { 'content-type': 'text/html; charset=utf-8' });
      response.end(text ?? '');
      return;
    }
    const file = join(folder, rest);
    if (statSync(file, { throwIfNoEntry: false })?.isFile() !== true) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream' });
    const text = instead[path];
    if (text !== undefined) response.end(text);
    else createReadStream(file).pipe(response);
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port is free');
  return {
    address: `127.0.0.1:${address.port}`,
    stop: () =>
      new Promise((done) => {
        server.closeAllConnections();
        server.close(() => done());
      }),
  };
}
