// JSON to be read by programs and, at need, by a person: indented, rows of figures on one line.

/** New lines never stand inside a text of JSON, so only the layout is touched. */
export function jsonText(thing: unknown): string {
  const rows = /\[\n\s+([^[\]{}"]*?)\n\s*\]/g;
  const laid = JSON.stringify(thing, null, 2).replace(rows, (_, row: string) => `[${row.replace(/,\n\s+/g, ', ')}]`);
  return `${laid}\n`;
}
