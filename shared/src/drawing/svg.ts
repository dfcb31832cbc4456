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

/** A whole drawing that says what it is: title and description are read aloud. Its colours come from the page round it. */
export function drawing(
  size: { readonly width: number; readonly height: number },
  title: string,
  description: string,
  inside: readonly string[],
): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 ${rounded(size.width)} ${rounded(size.height)}" role="img"`,
    ` aria-label="${escaped(title)}" font-family="system-ui, sans-serif" font-size="12" fill="none" stroke="none">\n`,
    `<title>${escaped(title)}</title>\n<desc>${escaped(description)}</desc>\n`,
    `${inside.filter((one) => one !== '').join('\n')}\n</svg>\n`,
  ].join('');
}

/** The same as a file of its own: ink on paper, with its size. */
export function standalone(svg: string, rules: string): string {
  const [, width = '', height = ''] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
  return svg
    .replace('<svg ', `<svg width="${width}" height="${height}" `)
    .replace(
      '</desc>\n',
      `</desc>\n<style>\n${rules}\n</style>\n<rect class="paper" width="${width}" height="${height}"/>\n`,
    );
}

/** Words in the drawing, at a place; `anchor` says which end of them stands there. */
export function label(
  text: string,
  x: number,
  y: number,
  anchor: 'start' | 'middle' | 'end' = 'start',
  kind?: 'title' | 'note',
): string {
  return element(
    'text',
    { x, y, ...(anchor === 'start' ? {} : { 'text-anchor': anchor }), ...(kind === undefined ? {} : { class: kind }) },
    escaped(text),
  );
}

export function stroke(kind: string, x1: number, y1: number, x2: number, y2: number): string {
  return element('line', { class: kind, x1, y1, x2, y2 });
}
