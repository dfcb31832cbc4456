/** A hover as paragraphs, and how they are written down: in Markdown, or as plain text for editors that know no better. Text of a file never becomes markup. */
import type { MarkupContent } from 'vscode-languageserver-types';

export type Piece =
  /** The name and the figure: first, short. */
  | { readonly is: 'head'; readonly name: string; readonly rest: string }
  | { readonly is: 'text'; readonly text: string }
  /** Lines whose columns stand under each other. */
  | { readonly is: 'figures'; readonly lines: readonly string[] }
  | { readonly is: 'caution'; readonly text: string };

export function written(pieces: readonly Piece[], markdown: boolean): MarkupContent {
  const value = pieces.map(markdown ? inMarkdown : plainly).join('\n\n');
  return { kind: markdown ? 'markdown' : 'plaintext', value };
}

function inMarkdown(piece: Piece): string {
  switch (piece.is) {
    case 'head':
      return `**${escaped(piece.name)}**${piece.rest === '' ? '' : ` ${escaped(piece.rest)}`}`;
    case 'text':
      return piece.text.split('\n').map(escaped).join('  \n');
    case 'caution':
      return `**Caution:** ${escaped(piece.text)}`;
    case 'figures':
      return `\`\`\`text\n${piece.lines.map((line) => line.replaceAll('```', "'''")).join('\n')}\n\`\`\``;
  }
}

function plainly(piece: Piece): string {
  switch (piece.is) {
    case 'head':
      return `${piece.name} ${piece.rest}`.trim();
    case 'text':
      return piece.text;
    case 'caution':
      return `Caution: ${piece.text}`;
    case 'figures':
      return piece.lines.join('\n');
  }
}

/** No markup, no links but bare addresses, no HTML. */
function escaped(text: string): string {
  return text.replace(/[\\`*_[\]<>~|&!]/g, '\\$&').replace(/^([ \t]*)([-+#]|\d+[.)])(?=\s)/, '$1\\$2');
}

/** A doc comment: what it says, cautions apart, and what it leans on. */
export function docPieces(
  doc: string | undefined,
  text: (doc: string | undefined) => string,
  source: string | null,
): Piece[] {
  const lines = text(doc)
    .split('\n')
    .map((line) => line.trim());
  const isCaution = (line: string): boolean => /^caution:/i.test(line);
  const said = lines
    .filter((line) => !isCaution(line))
    .join('\n')
    .trim();
  return [
    ...(said === '' ? [] : [{ is: 'text', text: said } as const]),
    ...lines
      .filter(isCaution)
      .map((line): Piece => ({ is: 'caution', text: line.slice(line.indexOf(':') + 1).trim() })),
    ...(source === null ? [] : [{ is: 'text', text: `Source: ${source}` } as const]),
  ];
}
