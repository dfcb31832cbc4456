// Colours of drawings, by what they colour. Rules name places in a palette; a palette fills them: ink on paper, or what an editor's theme gives.

const paletteNames = [
  'ink',
  'faint',
  'paper',
  'band',
  'line-1',
  'line-2',
  'line-3',
  'line-4',
  'line-5',
  'line-6',
  'line-7',
  'line-8',
  'bad',
  'risk',
] as const;
export type Palette = Readonly<Record<(typeof paletteNames)[number], string>>;

/** For paper and for pages of their own. Hues of lines are told apart with any sight, after Okabe and Ito (2008), darkened where white paper asks for it. */
export const lightPalette: Palette = {
  ink: '#1b1b1b',
  faint: '#c9c9c9',
  paper: '#ffffff',
  band: '#e9eef2',
  'line-1': '#0072b2',
  'line-2': '#d55e00',
  'line-3': '#00815f',
  'line-4': '#a8507f',
  'line-5': '#2f7fae',
  'line-6': '#9a6a00',
  'line-7': '#666666',
  'line-8': '#7a6c00',
  bad: '#a61b1b',
  risk: '#8a5300',
};

const front = 'var(--vscode-editor-foreground, var(--vscode-foreground))';

/** For a view inside an editor: nothing but the colours of its theme. */
export const editorPalette: Palette = {
  ink: front,
  faint: 'var(--vscode-contrastBorder, var(--vscode-editorIndentGuide-background1, var(--vscode-editorWidget-border)))',
  paper: 'var(--vscode-editor-background)',
  band: 'var(--vscode-editor-inactiveSelectionBackground, transparent)',
  'line-1': `var(--vscode-charts-blue, ${front})`,
  'line-2': `var(--vscode-charts-orange, ${front})`,
  'line-3': `var(--vscode-charts-green, ${front})`,
  'line-4': `var(--vscode-charts-purple, ${front})`,
  'line-5': `var(--vscode-charts-red, ${front})`,
  'line-6': `var(--vscode-charts-yellow, ${front})`,
  'line-7': `var(--vscode-charts-foreground, ${front})`,
  'line-8': `var(--vscode-descriptionForeground, ${front})`,
  bad: `var(--vscode-errorForeground, ${front})`,
  risk: `var(--vscode-editorWarning-foreground, ${front})`,
};

const rules = [
  '.drawing { display: block; width: 100%; max-width: 720px; height: auto; }',
  '.drawing .ink { stroke: var(--drawing-ink); }',
  '.drawing .edge { stroke: var(--drawing-ink); stroke-dasharray: 6 4; }',
  '.drawing .faint { stroke: var(--drawing-faint); }',
  '.drawing .band { fill: var(--drawing-band); stroke: none; }',
  '.drawing .unsure { fill: var(--drawing-ink); fill-opacity: 0.14; stroke: none; }',
  '.drawing .paper { fill: var(--drawing-paper); }',
  '.drawing .solid { fill: var(--drawing-ink); }',
  '.drawing .bad { stroke: var(--drawing-bad); stroke-width: 2; }',
  '.drawing .risk { stroke: var(--drawing-risk); stroke-width: 2; }',
  '.drawing text { fill: var(--drawing-ink); stroke: none; }',
  '.drawing .title { font-weight: bold; }',
  '.drawing .note { font-style: italic; }',
  ...Array.from({ length: 8 }, (_, at) => `.drawing .line-${at + 1} { stroke: var(--drawing-line-${at + 1}); }`),
].join('\n');

/** Rules for a page that holds drawings; the palette stands on its own, so that paper can have another one. */
export function drawingRules(): string {
  return rules;
}

/** `--drawing-ink: …;` for each place of the palette, to stand in a rule of the page. */
export function paletteText(palette: Palette): string {
  return paletteNames.map((name) => `--drawing-${name}: ${palette[name]};`).join(' ');
}

/** Rules of a drawing that is a file of its own: programs that print it may not know places in a palette. */
export function ownRules(): string {
  return rules.replaceAll(/var\(--drawing-([\w-]+)\)/g, (whole, name: keyof Palette) => lightPalette[name] ?? whole);
}
