// JSON to be read by programs and, at need, by a person: indented, rows of figures on one line.

export function jsonText(thing: unknown): string {
  return `${laid(thing, '')}\n`;
}

function laid(thing: unknown, indent: string): string {
  if (typeof thing !== 'object' || thing === null) return JSON.stringify(thing) ?? 'null';
  const inner = `${indent}  `;
  if (Array.isArray(thing)) {
    if (thing.every(isFigure)) return JSON.stringify(thing).replaceAll(',', ', ');
    return `[\n${thing.map((one) => inner + laid(one, inner)).join(',\n')}\n${indent}]`;
  }
  const entries = Object.entries(thing).filter(([, value]) => value !== undefined);
  if (entries.length === 0) return '{}';
  const lines = entries.map(([key, value]) => `${inner}${JSON.stringify(key)}: ${laid(value, inner)}`);
  return `{\n${lines.join(',\n')}\n${indent}}`;
}

/** No text: a comma in one is no comma between two. */
function isFigure(one: unknown): boolean {
  return one === null || typeof one === 'number' || typeof one === 'boolean';
}
