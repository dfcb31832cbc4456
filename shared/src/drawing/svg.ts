// Pieces of an SVG drawing as text. Everything that comes from a file is escaped here.

const marks: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

/** Text as it may stand in a drawing; controls that XML does not allow are left out. */
export function escaped(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/[&<>"']/g, (mark) => marks[mark]!);
}

/** `element('line', { x1: 0 })`, with what stands inside it written already. */
export function element(name: string, attributes: Readonly<Record<string, string | number>>, inside = ''): string {
  const written = Object.entries(attributes).map(
    ([key, value]) => ` ${key}="${typeof value === 'number' ? rounded(value) : escaped(value)}"`,
  );
  return inside === '' ? `<${name}${written.join('')}/>` : `<${name}${written.join('')}>${inside}</${name}>`;
}

export function rounded(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** A whole drawing that says what it is: title and description are read aloud. It takes its colour from the page round it. */
export function drawing(
  size: { readonly width: number; readonly height: number },
  title: string,
  description: string,
  inside: string,
): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${rounded(size.width)} ${rounded(size.height)}" role="img"`,
    ` aria-label="${escaped(title)}" font-family="system-ui, sans-serif" font-size="12" fill="none" stroke="none">\n`,
    `<title>${escaped(title)}</title>\n<desc>${escaped(description)}</desc>\n${inside}\n</svg>\n`,
  ].join('');
}
