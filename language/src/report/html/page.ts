// A page that needs nothing else: rules, colours for the screen and for paper, and what stands on it. Knows no sheet.
import { drawingRules, lightPalette, paletteText } from '@thou/shared/drawing/style';
import { escaped } from '@thou/shared/drawing/svg';
import { sheetRules } from '@thou/shared/sheet/style';

/** `bodies`: markup made here, one a sheet. */
export function sheetPage(title: string, bodies: readonly string[]): string {
  const colours = `:root { --sheet-ink: ${lightPalette.ink}; --sheet-soft: #555555; --sheet-line: ${lightPalette.faint}; --sheet-paper: ${lightPalette.paper}; --sheet-link: #0a4f83; --sheet-bad: ${lightPalette.bad}; --sheet-risk: ${lightPalette.risk}; --sheet-focus: #0a4f83; --sheet-here: ${lightPalette.band}; --sheet-text: system-ui, sans-serif; --sheet-figures: ui-monospace, monospace; ${paletteText(lightPalette)} color-scheme: light; }`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(title)}</title>
<style>
${colours}
${sheetRules}
${drawingRules()}
@page { @bottom-left { content: ${cssText(title)}; font: 8pt sans-serif; } }
</style>
</head>
<body>
<main>
${bodies.join('\n')}
</main>
</body>
</html>
`;
}

/** A string of a style sheet: nothing in it ends the string, the rule or the page. */
function cssText(text: string): string {
  return `"${text.replace(/[^\w .,:()-]/gu, (mark) => `\\${mark.codePointAt(0)!.toString(16)} `)}"`;
}
