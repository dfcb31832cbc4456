// A short name for a text, the same for the same text: to tell whether a piece of a page has changed. No safeguard against anybody.

/** FNV-1a over two halves: 64 bits, so that two states of one page practically never meet. */
export function createDigest(text: string): string {
  let [low, high] = [0x811c9dc5, 0xcbf29ce4];
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    low = Math.imul(low ^ code, 0x01000193);
    high = Math.imul(high ^ code ^ (at & 0xff), 0x01000193);
  }
  return (low >>> 0).toString(36) + (high >>> 0).toString(36);
}
