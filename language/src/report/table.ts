// Tables and paragraphs in characters of one width. Decimal points stand under each other. Knows nothing of what they hold.

export const pageWidth = 100;

/** Lines of a table; columns are as wide as they need to be, two blanks between them. */
export function table(rows: readonly (readonly string[])[], align: readonly ('left' | 'point' | 'right')[]): string[] {
  const columns = align.map((how, column) =>
    aligned(
      rows.map((row) => row[column] ?? ''),
      how,
    ),
  );
  return rows.map((_, at) =>
    columns
      .map((column) => column[at])
      .join('  ')
      .trimEnd(),
  );
}

/** Every text padded to one width. */
export function aligned(texts: readonly string[], how: 'left' | 'point' | 'right'): string[] {
  const set = how === 'point' ? pointsUnderEachOther(texts) : texts;
  const width = Math.max(0, ...set.map(widthOf));
  return set.map((text) => {
    const blanks = ' '.repeat(width - widthOf(text));
    return how === 'right' ? blanks + text : text + blanks;
  });
}

function pointsUnderEachOther(texts: readonly string[]): string[] {
  const before = texts.map((text) => (/\d/.test(text) ? lengthBeforePoint(text) : 0));
  const most = Math.max(0, ...before);
  return texts.map((text, at) => (/\d/.test(text) ? ' '.repeat(most - before[at]!) + text : text));
}

/** Characters before the first decimal point, or to the end of the first number where it has none. */
function lengthBeforePoint(text: string): number {
  return /^\D*\d*/.exec(text)![0].length;
}

/** Characters as the reader counts them. */
export function widthOf(text: string): number {
  return [...text].length;
}

/** A paragraph in lines of the page's width; further lines stand under the first word after `head`. */
export function paragraph(head: string, text: string, width = pageWidth): string[] {
  const indent = ' '.repeat(widthOf(head));
  const lines: string[] = [];
  let line = head;
  for (const word of text.split(' ')) {
    const glue = line === head || line === indent ? '' : ' ';
    if (glue !== '' && widthOf(line) + 1 + widthOf(word) > width) {
      lines.push(line);
      line = indent + word;
    } else line += glue + word;
  }
  return [...lines, line.trimEnd()];
}
