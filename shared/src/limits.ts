// One list of what the tool takes at most, so that no file of a stranger can hold it up. Each cap has a message of its own.

export const caps = {
  /** Size of one `.thou` file, in bytes. */
  fileBytes: 2 * 1024 * 1024,
  /** Size of one CSV file, in bytes. */
  csvBytes: 5 * 1024 * 1024,
  csvCells: 100_000,
  /** Brackets and braces inside each other. */
  nesting: 64,
  /** Parts laid out in one whole, each at its own place. */
  mounts: 10_000,
  /** Functions written out in one formula, those that they call among them. */
  calls: 1_000,
  /** Figures in one `where`. */
  locals: 256,
  /** Terms of one sum or product. */
  terms: 1_000,
  /** Files reached one through another. */
  useDepth: 64,
  /** Entries of one list. */
  listEntries: 100_000,
  /** Places along one axis. */
  axisSize: 100_000,
  /** Cells of one slot, all its axes multiplied. */
  cells: 1_000_000,
  /** Characters of one unit. */
  unitLength: 120,
  /** Greatest power in a unit. */
  unitPower: 12,
  /** Findings shown for one file; the rest is counted in one line. */
  findingsShown: 100,
} as const;
