// Addresses as the editor spells them and as the workspace knows them: one file, one address.
import type { LibraryText } from '../semantics/project.ts';

/** Addresses of these schemes are read, and of those that the editor names; others, such as the other side of a comparison, would be a second copy. */
const schemes = ['file', 'untitled', 'vscode-vfs', 'thou-library'];

export const libraryScheme = 'thou-library';

/** The library under addresses of its own, for editors that ask the server for its texts. */
export function virtualLibrary(library: LibraryText): LibraryText {
  return { ...library, files: library.files.map((file) => ({ ...file, uri: virtual(file.uri, library) })) };
}

function virtual(uri: string, { edition }: LibraryText): string {
  return `${libraryScheme}:/edition-${edition}/${lastOf(uri)}`;
}

export class Addresses {
  private readonly canonical: (uri: string) => string;
  private readonly library: ReadonlyMap<string, string>;
  private readonly schemes: ReadonlySet<string>;
  private readonly inwards = new Map<string, string>();
  private readonly outwards = new Map<string, string>();

  /** `lying`: the library as it lies on disk; the same texts may be known under addresses of their own. */
  constructor(
    canonical: (uri: string) => string,
    lying: LibraryText,
    isVirtual: boolean,
    moreSchemes: readonly string[] = [],
  ) {
    this.schemes = new Set([...schemes, ...moreSchemes]);
    this.canonical = canonical;
    this.library = new Map(isVirtual ? lying.files.map(({ uri }) => [uri, virtual(uri, lying)]) : []);
  }

  isRead(uri: string): boolean {
    return this.schemes.has(uri.slice(0, uri.indexOf(':')));
  }

  inward(uri: string): string {
    const known = this.inwards.get(uri);
    if (known !== undefined) return known;
    const found = this.canonical(uri);
    return this.library.get(found) ?? found;
  }

  /** The editor has this file open under its own spelling: it is answered in the same. */
  opened(uri: string): string {
    const inside = this.inward(uri);
    this.inwards.set(uri, inside);
    if (inside !== uri) this.outwards.set(inside, uri);
    return inside;
  }

  closed(uri: string): void {
    this.outwards.delete(this.inward(uri));
    this.inwards.delete(uri);
  }

  outward(uri: string): string {
    return this.outwards.get(uri) ?? uri;
  }

  /** A message from the editor with every address in it as the workspace knows it. */
  messageIn(message: unknown): unknown {
    return mapped(message, (text, key) => (addressed.has(key) ? this.inward(text) : text));
  }

  messageOut(message: unknown): unknown {
    return this.outwards.size === 0 ? message : mapped(message, (text) => this.outward(text));
  }
}

const addressed: ReadonlySet<string> = new Set(['uri', 'oldUri', 'newUri', 'targetUri', 'scopeUri']);

/** Every text of a message, keys included, through a change; what is no plain record passes untouched. */
function mapped(message: unknown, change: (text: string, key: string) => string, key = ''): unknown {
  if (typeof message === 'string') return change(message, key);
  if (Array.isArray(message)) return message.map((one) => mapped(one, change, key));
  if (typeof message !== 'object' || message === null || Object.getPrototypeOf(message) !== Object.prototype)
    return message;
  return Object.fromEntries(
    Object.entries(message).map(([name, value]) => [change(name, ''), mapped(value, change, name)]),
  );
}

/** A file as a reader calls it: inside its folder by its way, of the library as such, else by its last name. */
export function namesIn(folders: () => readonly string[], library: LibraryText): (uri: string) => string {
  const ofLibrary = new Set(library.files.map(({ uri }) => uri));
  return (uri) => {
    if (ofLibrary.has(uri)) return `trade library, ${lastOf(uri)}`;
    const folder = folders().find((one) => uri.startsWith(`${one}/`));
    return readable(folder === undefined ? lastOf(uri) : uri.slice(folder.length + 1));
  };
}

function lastOf(uri: string): string {
  return uri.slice(uri.lastIndexOf('/') + 1);
}

function readable(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
