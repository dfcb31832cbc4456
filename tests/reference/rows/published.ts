/** Published engines: bore, stroke and cylinders against the printed displacement. Source lines name what was read. */
import { engine, type Row } from './row.ts';

interface Published {
  readonly id: string;
  readonly source: string;
  readonly layout: string;
  readonly bore: string;
  readonly stroke: string;
  readonly computed: number;
  readonly printed: string;
  /** Whether the printed figure agrees to 0.05 %. */
  readonly agrees: boolean;
}

export const published: readonly Published[] = [
  {
    id: 'E-01',
    source: 'Lycoming O-235: encyclopedia mirror',
    layout: 'flat-4',
    bore: '4.375 in',
    stroke: '3.875 in',
    computed: 233.012,
    printed: '233.01 in^3',
    agrees: true,
  },
  {
    id: 'E-05',
    source: "Lycoming IO-540-AC: operator's manual sect. 2 p. 2-6",
    layout: 'flat-6',
    bore: '5.125 in',
    stroke: '4.375 in',
    computed: 541.511,
    printed: '541.5 in^3',
    agrees: true,
  },
  {
    id: 'E-06',
    source: 'Continental IO-550-A: encyclopedia mirror',
    layout: 'flat-6',
    bore: '5.25 in',
    stroke: '4.25 in',
    computed: 552.012,
    printed: '552 in^3',
    agrees: true,
  },
  {
    id: 'E-08',
    source: 'P&W R-1340: museum page',
    layout: 'radial-9',
    bore: '5.75 in',
    stroke: '5.75 in',
    computed: 1343.804,
    printed: '1344 in^3',
    agrees: true,
  },
  {
    id: 'E-12',
    source: 'Allison V-1710: museum sign',
    layout: 'vee-12',
    bore: '5.5 in',
    stroke: '6.0 in',
    computed: 1710.597,
    printed: '1710.6 in^3',
    agrees: true,
  },
  {
    id: 'E-15',
    source: 'Liberty L-12: museum and history pages',
    layout: 'vee-12',
    bore: '5.0 in',
    stroke: '7.0 in',
    computed: 1649.336,
    printed: '1649 in^3',
    agrees: true,
  },
  {
    id: 'E-17',
    source: 'Gipsy Major: museum page; 6.12 L is rounded, 0.067 % off',
    layout: 'inline-4',
    bore: '118.0 mm',
    stroke: '140.0 mm',
    computed: 373.715,
    printed: '6.12 L',
    agrees: false,
  },
  {
    id: 'E-01 misprint',
    source: 'E-01 with two digits of the bore exchanged',
    layout: 'flat-4',
    bore: '4.735 in',
    stroke: '3.875 in',
    computed: 272.9365,
    printed: '233.01 in^3',
    agrees: false,
  },
  {
    id: 'E-06 misprint',
    source: 'E-06 with bore and stroke exchanged',
    layout: 'flat-6',
    bore: '4.25 in',
    stroke: '5.25 in',
    computed: 446.867,
    printed: '552 in^3',
    agrees: false,
  },
];

export const publishedText = (row: Published): string =>
  engine(
    `layout: ${row.layout}\nblock.bore: ${row.bore}\ncrank.stroke: ${row.stroke}\nrod.length: 12 in\npublished-displacement: ${row.printed}`,
  );

export const publishedRows: readonly Row[] = published.map((row) => ({
  id: row.id,
  source: row.source,
  text: publishedText(row),
  path: 'displacement',
  expected: row.computed,
  unit: 'in3',
  tolerance: 0.0005,
}));
