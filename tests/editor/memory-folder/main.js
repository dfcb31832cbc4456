// A folder that lies on no disk, filled from files.json beside this file: as an editor in a browser sees a repository far away.
const { Disposable, EventEmitter, FileChangeType, FileSystemError, FileType, Uri, workspace } = require('vscode');

exports.activate = (context) => {
  const happened = new EventEmitter();
  const files = new Map();
  const filled = workspace.fs.readFile(Uri.joinPath(context.extensionUri, 'files.json')).then((bytes) => {
    for (const [path, text] of Object.entries(JSON.parse(new TextDecoder().decode(bytes))))
      files.set(path, new TextEncoder().encode(text));
  });
  const isFolder = (path) => [...files.keys()].some((file) => file.startsWith(path === '/' ? '/' : `${path}/`));
  const missing = (uri) => {
    throw FileSystemError.FileNotFound(uri);
  };
  const about = (type, size) => ({ type, size, ctime: 0, mtime: size });
  const provider = {
    onDidChangeFile: happened.event,
    watch: () => new Disposable(() => undefined),
    async stat(uri) {
      await filled;
      const bytes = files.get(uri.path);
      if (bytes) return about(FileType.File, bytes.length);
      return isFolder(uri.path) ? about(FileType.Directory, 0) : missing(uri);
    },
    async readDirectory(uri) {
      await filled;
      if (!isFolder(uri.path)) missing(uri);
      const start = uri.path === '/' ? '/' : `${uri.path}/`;
      const found = new Map();
      for (const file of files.keys()) {
        if (!file.startsWith(start)) continue;
        const [name, ...below] = file.slice(start.length).split('/');
        found.set(name, below.length > 0 ? FileType.Directory : FileType.File);
      }
      return [...found];
    },
    async readFile(uri) {
      await filled;
      return files.get(uri.path) ?? missing(uri);
    },
    async writeFile(uri, bytes) {
      await filled;
      const type = files.has(uri.path) ? FileChangeType.Changed : FileChangeType.Created;
      files.set(uri.path, bytes);
      happened.fire([{ type, uri }]);
    },
    delete(uri) {
      if (!files.delete(uri.path)) missing(uri);
      happened.fire([{ type: FileChangeType.Deleted, uri }]);
    },
    rename(from, to) {
      files.set(to.path, files.get(from.path) ?? missing(from));
      files.delete(from.path);
      happened.fire([
        { type: FileChangeType.Deleted, uri: from },
        { type: FileChangeType.Created, uri: to },
      ]);
    },
    createDirectory(uri) {
      throw FileSystemError.NoPermissions(uri);
    },
  };
  context.subscriptions.push(workspace.registerFileSystemProvider('memory', provider, { isCaseSensitive: true }));
};
