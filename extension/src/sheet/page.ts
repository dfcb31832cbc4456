/** The page of the sheet beside the text: its frame, with nothing but the colours of the editor's theme, and ink on paper for print. */
import { drawingRules, editorPalette, lightPalette, paletteText } from '@thou/shared/drawing/style';
import { sheetRules } from '@thou/shared/sheet/style';

const front = 'var(--vscode-editor-foreground, var(--vscode-foreground))';
const edge = 'var(--vscode-contrastBorder, var(--vscode-editorWidget-border, var(--vscode-foreground)))';

const themed = `:root {
  --sheet-ink: ${front}; --sheet-soft: ${front}; --sheet-line: ${edge}; --sheet-paper: var(--vscode-editor-background);
  --sheet-link: var(--vscode-textLink-foreground); --sheet-bad: var(--vscode-errorForeground, ${front});
  --sheet-risk: var(--vscode-editorWarning-foreground, ${front}); --sheet-focus: var(--vscode-focusBorder, ${front});
  --sheet-here: var(--vscode-editor-inactiveSelectionBackground, transparent);
  --sheet-text: var(--vscode-font-family); --sheet-figures: var(--vscode-editor-font-family);
  ${paletteText(editorPalette)}
}
/* colours of warnings are made for marks: as text they are too faint on some themes */
.state.error, .state.warning, .marked { color: inherit; }
body.vscode-high-contrast, body.vscode-high-contrast-light { --sheet-here: transparent; }
body.vscode-high-contrast .finding, body.vscode-high-contrast-light .finding { border: 1px solid ${edge}; padding: 0.4rem; }
.bar { position: sticky; top: 0; z-index: 1; display: flex; flex-wrap: wrap; gap: 0.4rem 1rem; padding: 0.5rem 0; background: var(--sheet-paper); border-bottom: 1px solid var(--sheet-line); }
select { font: inherit; color: var(--vscode-dropdown-foreground, ${front}); background: var(--vscode-dropdown-background, transparent); border: 1px solid var(--vscode-dropdown-border, ${edge}); }
button { font: inherit; padding: 0.1rem 0.7rem; color: var(--vscode-button-secondaryForeground, ${front}); background: var(--vscode-button-secondaryBackground, transparent); border: 1px solid var(--vscode-button-border, var(--vscode-contrastBorder, transparent)); }
button.apart { padding: 0 0.35rem 0 0; color: inherit; background: none; border: none; cursor: pointer; }
button.apart::before { content: '▸' / ''; }
button.apart[aria-expanded='true']::before { content: '▾' / ''; }
.apart-of > td > .inside { position: sticky; left: 0; max-width: min(60rem, calc(100vw - 3rem)); font-size: 0.93em; }
.apart-of .tree { margin: 0 0 0.5rem 1.1rem; padding-left: 0.8rem; border-left: 1px solid var(--sheet-line); }
.apart-of .tree .tree { margin-left: 0.3rem; }
.apart-of ul { list-style: none; margin: 0; padding-left: 0.3rem; }
.apart-of details { margin: 0; }
.apart-of summary { cursor: pointer; }
.apart-of li { overflow-wrap: anywhere; }
.apart-of li > span { display: block; padding-left: 1.1em; }
.branches { font-weight: bold; margin-top: 0.4rem; }
tbody, tr, .finding { scroll-margin: 4rem 0; }`;

const paper = `@media print {
  :root, body { --sheet-ink: ${lightPalette.ink}; --sheet-soft: ${lightPalette.ink}; --sheet-line: ${lightPalette.faint}; --sheet-paper: ${lightPalette.paper}; --sheet-link: ${lightPalette.ink}; --sheet-bad: ${lightPalette.bad}; --sheet-risk: ${lightPalette.risk}; --sheet-here: ${lightPalette.paper}; ${paletteText(lightPalette)} }
  .bar { display: none; }
}`;

export interface PageParts {
  readonly script: string;
  readonly source: string;
  readonly nonce: string;
  readonly language: string;
  readonly build: string;
  readonly sheet: string;
  readonly print: string;
  readonly waiting: string;
  /** What the button beside a figure says, with `{0}` for its name. */
  readonly apart: string;
}

/** All words are escaped here; what the server sends is put in by the page's script. */
export function framePage({ script, source, nonce, language, build, sheet, print, waiting, apart }: PageParts): string {
  const policy = `default-src 'none'; style-src 'nonce-${nonce}'; script-src 'nonce-${nonce}'; img-src ${source}; font-src ${source}`;
  return `<!doctype html>
<html lang="${escaped(language)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Thou</title>
<style nonce="${nonce}">${sheetRules}${drawingRules()}${themed}${paper}</style>
</head>
<body>
<header class="bar">
<label>${escaped(build)} <select id="build"></select></label>
<label>${escaped(sheet)} <select id="kind"></select></label>
<button id="print" type="button">${escaped(print)}</button>
</header>
<div id="told" class="told" role="status" aria-live="polite"></div>
<main id="sheet" data-apart="${escaped(apart)}"><h1>${escaped(waiting)}</h1></main>
<script nonce="${nonce}" src="${escaped(script)}"></script>
</body>
</html>`;
}

const marks: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (mark) => marks[mark]!);
}
