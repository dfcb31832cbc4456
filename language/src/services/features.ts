// The table of what the server can do, one line a feature. The server reads it; features do not know it.
import { buildFilesFeature } from './checks/builds.ts';
import { fixesFeature } from './checks/fixes.ts';
import { lensFeature } from './checks/lens.ts';
import { standingFeature } from './checks/standing.ts';
import { codeActions } from './code-actions/code-actions.ts';
import { completionFeature } from './completion/feature.ts';
import type { Feature } from './feature.ts';
import { dueFeature } from './readings/due.ts';
import { measureFeature } from './readings/measure.ts';
import { pasteFeature } from './readings/paste.ts';
import { tableFeature } from './readings/table.ts';
import { readingFeatures } from './reading.ts';
import { willRenameFeature } from './will-rename.ts';
import { semanticTokensFeature } from './semantic-tokens.ts';
import { renameFeature } from './rename.ts';
import { selectionRangeFeature } from './selection-range.ts';
import { foldingFeature } from './folding.ts';
import { formattingFeature } from './formatting.ts';
import { inlayHintsFeature } from './inlay-hints.ts';
import { chaptersFeature } from './chapters.ts';
import { reportFeature } from './reports/report.ts';
import { toolFeature } from './reports/tools.ts';
import { sheetFeature } from './sheet.ts';

export const features: readonly Feature[] = [
  completionFeature,
  willRenameFeature,
  semanticTokensFeature,
  renameFeature,
  selectionRangeFeature,
  foldingFeature,
  formattingFeature,
  codeActions,
  inlayHintsFeature,
  sheetFeature,
  pasteFeature,
  dueFeature,
  measureFeature,
  tableFeature,
  buildFilesFeature,
  fixesFeature,
  lensFeature,
  standingFeature,
  reportFeature,
  chaptersFeature,
  toolFeature,
  ...readingFeatures,
];
