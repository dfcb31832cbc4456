/** A small job in three files: a part that is used, a table that is read, and what is wrong in one build. */
export const job: Readonly<Record<string, string>> = {
  '/engines/jig.thou': `use prelude 1
use "parts/shelf.thou"

build jig {
  layout: single
  block: shelf-block
  crank.stroke: 3 inn
  measured on 2026-01-02 {
    block.bore: from "bores.csv"
  }
  expect block.bore within 4.200..4.300 in
}
`,
  '/engines/parts/shelf.thou': 'use prelude 1\n\npart shelf-block: Block {\n  bore: 4.100 in\n}\n',
  '/engines/bores.csv': 'cylinder,bore [in]\n1,4.1000\n',
};

/** Where it says so, counted from 1; what is out comes from the table. */
export const lines = { stroke: 7, table: 9 } as const;
