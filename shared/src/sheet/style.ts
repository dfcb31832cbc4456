// How a sheet is laid out, on screen and on paper. Colours are places that the page fills: its own, or those of an editor's theme.

export const sheetRules = `
body { margin: 0; padding: 0 1.25rem 3rem; color: var(--sheet-ink); background: var(--sheet-paper); font: 14px/1.45 var(--sheet-text); }
main { max-width: 68rem; margin: 0 auto; }
h1 { font-size: 1.5rem; margin: 1.2rem 0 0.2rem; }
h2 { font-size: 1.1rem; margin: 1.8rem 0 0.4rem; padding-bottom: 0.2rem; border-bottom: 1px solid var(--sheet-line); }
p { margin: 0.3rem 0; }
.from, .note, .view, dt { color: var(--sheet-soft); }
.summary { font-weight: bold; }
a.figure { color: inherit; text-decoration: underline; text-decoration-color: var(--sheet-line); text-underline-offset: 0.2em; }
a.figure:hover { color: var(--sheet-link); text-decoration-color: currentColor; }
:focus-visible { outline: 2px solid var(--sheet-focus); outline-offset: 1px; }
table { border-collapse: collapse; margin: 0.6rem 0 1rem; font-variant-numeric: tabular-nums; }
caption { text-align: left; color: var(--sheet-soft); font-size: 0.85em; padding-bottom: 0.2rem; }
th, td { padding: 0.15rem 0.6rem 0.15rem 0; text-align: left; vertical-align: top; font-weight: normal; }
thead th { border-bottom: 1px solid var(--sheet-ink); font-weight: bold; vertical-align: bottom; }
tbody + tbody tr:first-child > *, tr + tr > * { border-top: 1px solid var(--sheet-line); }
tbody tr.further > *, tbody tr.under > * { border-top: none; }
tbody tr.heads > * { border-top: none; padding-top: 0.5rem; border-bottom: 1px solid var(--sheet-line); color: var(--sheet-soft); }
tbody tr.heads + tr > * { border-top: none; }
.text { font-family: var(--sheet-figures); font-size: 0.93em; }
thead .text, tr.heads .text, tr.heads .number { font-family: inherit; }
.limits { white-space: nowrap; color: var(--sheet-ink); }
.told { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
td.blank { border: 1px solid var(--sheet-line); min-width: 3.2rem; }
.number { text-align: right; white-space: nowrap; font-family: var(--sheet-figures); font-size: 0.93em; }
thead .number { font-family: inherit; }
.notes { max-width: 20rem; color: var(--sheet-soft); font-size: 0.93em; padding-left: 0.5rem; }
.marked { font-weight: bold; color: var(--sheet-bad); }
.view { font-size: 0.93em; }
.findings { list-style: none; padding: 0; }
.finding { margin: 0.7rem 0; padding-left: 0.8rem; border-left: 3px solid var(--sheet-line); }
.finding dl { display: grid; grid-template-columns: max-content 1fr; gap: 0.1rem 0.8rem; margin: 0.2rem 0; }
.finding dd { margin: 0; }
.out-of-limits { border-left-color: var(--sheet-bad); }
.at-risk { border-left-color: var(--sheet-risk); border-left-style: dashed; }
.state.error { color: var(--sheet-bad); }
.state.warning { color: var(--sheet-risk); }
figure { margin: 1rem 0; scroll-margin: 4rem 0; }
.ways { font-size: 0.93em; color: var(--sheet-soft); }
details { margin: 0.3rem 0; }
details.apart { margin: 0; }
details.apart > summary { cursor: pointer; }
details.apart > div { color: var(--sheet-soft); font-size: 0.93em; margin-left: 1.1rem; max-width: 28rem; overflow-wrap: anywhere; }
details.apart ul { margin: 0 0 0.3rem; padding-left: 1rem; }
details.fold { margin: 0; border-bottom: 1px solid var(--sheet-line); }
details.fold > summary { cursor: pointer; padding: 0.4rem 0; }
details.fold > summary h2 { display: inline; border: none; margin: 0; padding: 0; }
.counted { color: var(--sheet-soft); margin-left: 0.5rem; }
h3 { font-size: 1rem; margin: 0.8rem 0 0.2rem; }
ul.lines { list-style: none; padding: 0; margin: 0.3rem 0; }
.lines li { padding: 0.1rem 0; }
ol.steps { padding-left: 2rem; }
.step { margin: 0.9rem 0; padding-left: 0.2rem; }
.step::marker { font-weight: bold; }
.here > th, tr.here > th, td.here, summary.here { background: var(--sheet-here); outline: 1px solid var(--sheet-focus); }
ul.blanks { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.6rem 1.4rem; }
span.blank { display: inline-block; min-width: 6.5rem; border-bottom: 1px solid var(--sheet-ink); }
@page { margin: 12mm 12mm 14mm; @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif; } }
@media print {
  html { font-size: 8pt; }
  body { padding: 0; font-size: 8pt; line-height: 1.25; }
  main { max-width: none; }
  h1 { margin-top: 0; font-size: 14pt; }
  h2 { margin: 1rem 0 0.2rem; font-size: 11pt; }
  h3 { font-size: 9pt; }
  h2, h3, summary, caption, tr.heads, .note, details.fold > p, .step > p { break-after: avoid; }
  p, li { orphans: 2; widows: 2; }
  thead { display: table-header-group; }
  tr, details.fold > p, .grid tbody, .finding, figure, .blanks, .lines li, .step > p { break-inside: avoid; }
  .findings { columns: 80mm; column-gap: 6mm; margin: 0.3rem 0; }
  .finding { margin: 0 0 0.6rem; }
  .text, .number, .notes, .view, caption, details.apart > div { font-size: 8pt; }
  .grid th[scope='row'] { min-width: 10rem; }
  .step .grid th[scope='row'] { min-width: 7rem; }
  tr.under, ul.blanks { break-before: avoid; }
  th, td { padding: 0.08rem 0.3rem 0.08rem 0; }
  .number { padding-right: 0.5rem; }
  tbody tr.heads > * { padding-top: 0.3rem; }
  .notes { max-width: none; min-width: 9rem; }
  .limits { white-space: normal; }
  thead, thead tr { break-after: avoid; break-inside: avoid; }
  table { max-width: 100%; margin: 0.2rem 0 0.5rem; }
  table.grid { width: 100%; }
  td.blank { min-width: 9mm; height: 4mm; }
  span.blank { min-width: 27mm; }
  ul.blanks { gap: 2.5mm 6mm; }
  details.fold { border: none; }
  details.fold > summary { list-style: none; padding: 0.5rem 0 0.1rem; }
  details.fold::details-content { content-visibility: visible; display: block; block-size: auto; }
  details.apart > summary { list-style: none; }
  details.apart > div { display: none; }
  details.as-figures, .ways { display: none; }
  a.figure { text-decoration: none; }
  .sheet + .sheet { break-before: page; }
  [data-part^='cautions'] { break-before: avoid; break-inside: avoid; }
  figure { margin: 0.5rem 0; }
  svg.drawing { max-width: 170mm; }
}
`;
