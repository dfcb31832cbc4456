// The words that the language keeps for itself. The grammar is checked against this list by a test.

const words = `
  use part build variant machining measured expect accept
  unit dimension axis component extend derive function rule practice
  per as against limits where when adjust even then because changed-by repeated
  or and not if else within over by with on of to from step solve otherwise`;

/** Words that are never a name and never a unit. */
export const reservedWords: ReadonlySet<string> = new Set(words.trim().split(/\s+/));
