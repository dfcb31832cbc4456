// What the command line could not do, in one line for the reader. Ends the run with code 2.

export class Refusal extends Error {}

export const exitCode = { holds: 0, findings: 1, couldNotRun: 2 } as const;
