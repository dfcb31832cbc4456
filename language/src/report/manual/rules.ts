// How the pages of the manual look: as the sheet does, on light and on dark, and on paper.
import { lightPalette } from '@thou/shared/drawing/style';
import { sheetRules } from '@thou/shared/sheet/style';

const places = (colours: Readonly<Record<string, string>>): string =>
  Object.entries(colours)
    .map(([name, colour]) => `--sheet-${name}: ${colour};`)
    .join(' ');

const light = places({
  ink: lightPalette.ink,
  soft: '#555555',
  line: lightPalette.faint,
  paper: lightPalette.paper,
  link: '#0a4f83',
  bad: lightPalette.bad,
  risk: lightPalette.risk,
  focus: '#0a4f83',
  here: lightPalette.band,
});

const dark = places({
  ink: '#e6e6e6',
  soft: '#b3b3b3',
  line: '#4a4f55',
  paper: '#1c1f23',
  link: '#8cc4f2',
  bad: '#ff9a8f',
  risk: '#e9b872',
  focus: '#8cc4f2',
  here: '#2b3138',
});

export const manualRules = `
:root { ${light} --sheet-text: system-ui, sans-serif; --sheet-figures: ui-monospace, monospace; color-scheme: light; }
@media screen and (prefers-color-scheme: dark) { :root { ${dark} color-scheme: dark; } }
${sheetRules}
html { scroll-padding-top: 4.5rem; }
body { padding-top: 0; }
a { color: var(--sheet-link); text-underline-offset: 0.2em; }
a.jump { position: absolute; left: -99rem; }
a.jump:focus { left: 0.5rem; top: 0.5rem; z-index: 3; padding: 0.4rem; background: var(--sheet-paper); }
header { position: sticky; top: 0; z-index: 2; display: flex; flex-wrap: wrap; gap: 0.4rem 1.2rem; align-items: center; padding: 0.6rem 0; background: var(--sheet-paper); border-bottom: 1px solid var(--sheet-line); }
header label { color: var(--sheet-soft); }
.search { position: relative; flex: 1 1 18rem; display: flex; gap: 0.5rem; align-items: center; }
#find { flex: 1; font: inherit; padding: 0.3rem 0.5rem; color: inherit; background: var(--sheet-paper); border: 1px solid var(--sheet-soft); border-radius: 3px; }
#count { color: var(--sheet-soft); min-width: 6rem; }
#found { position: absolute; top: 100%; left: 0; right: 0; max-height: 60vh; overflow: auto; margin: 0.2rem 0 0; padding: 0; list-style: none; background: var(--sheet-paper); border: 1px solid var(--sheet-soft); border-radius: 3px; }
#found li { padding: 0.25rem 0.6rem; cursor: pointer; }
#found li[aria-selected='true'] { background: var(--sheet-here); outline: 1px solid var(--sheet-focus); outline-offset: -1px; }
#found span { color: var(--sheet-soft); }
.columns { max-width: 80rem; margin: 0 auto; display: grid; grid-template-columns: 15rem minmax(0, 1fr); gap: 2rem; }
nav ul { list-style: none; padding: 0; margin: 0; }
nav li { margin: 0.15rem 0; }
nav.chapters { padding-top: 1.4rem; font-size: 0.93em; }
nav [aria-current] { font-weight: bold; color: inherit; text-decoration: none; }
h3 { font: bold 1em var(--sheet-figures); margin: 0; }
h3 a { color: inherit; text-decoration: none; }
h3 a:hover { text-decoration: underline; }
.entry { margin: 0.9rem 0 1.3rem; padding: 0.1rem 0 0.1rem 0.9rem; border-left: 3px solid var(--sheet-line); }
.entry:target { border-left-color: var(--sheet-focus); background: var(--sheet-here); }
.entry pre, .entry code { font-family: var(--sheet-figures); font-size: 0.93em; }
.entry pre { margin: 0.2rem 0 0.5rem; padding: 0.4rem 0.6rem; overflow-x: auto; border: 1px solid var(--sheet-line); white-space: pre-wrap; }
.entry .sort { color: var(--sheet-soft); }
.label { color: var(--sheet-soft); font-style: italic; }
.caution { border: 1px solid var(--sheet-risk); padding: 0.3rem 0.6rem; }
.refs { overflow-wrap: anywhere; }
.scroll { overflow-x: auto; }
@media (max-width: 60rem) {
  .columns { grid-template-columns: minmax(0, 1fr); gap: 0; }
  nav.chapters ul { display: flex; flex-wrap: wrap; gap: 0 1rem; }
}
@media print {
  header, nav.chapters, a.jump { display: none; }
  .columns { display: block; }
  .entry { break-inside: avoid; }
  a { color: inherit; }
}
`;
