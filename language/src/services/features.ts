// The table of what the server can do, one line a feature. The server reads it; features do not know it.
import { codeActions } from './code-actions/code-actions.ts';
import type { Feature } from './feature.ts';

export const features: readonly Feature[] = [codeActions];
