/** Texts with places to fill in. Written as snippets; for an editor that knows none the places are filled with what stands in them. */

/** `${1:word}`, `${1|a,b|}`, `$0` filled in: what is left when nothing is changed. */
export function plain(snippet: string): string {
  return snippet
    .replace(/\$\{\d+\|([^,|}]*)[^}]*\|\}/g, '$1')
    .replace(/\$\{\d+:((?:[^}\\]|\\.)*)\}/g, '$1')
    .replace(/\$\d+/g, '')
    .replace(/\\([$}\\|,])/g, '$1')
    .replace(/[ \t]+$/gm, '');
}

/** Text of a file inside a snippet. */
export function escaped(text: string): string {
  return text.replace(/[$}\\]/g, '\\$&');
}

/** A place with one of several words; the editor offers them. */
export function oneOf(place: number, words: readonly string[]): string {
  return words.length === 1
    ? `\${${place}:${escaped(words[0]!)}}`
    : `\${${place}|${words.map((word) => escaped(word).replace(/[,|]/g, '\\$&')).join(',')}|}`;
}
