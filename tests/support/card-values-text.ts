import type { LabD50, ReferenceCard } from '../../server/domain/index.ts';

interface CardValuesTextOptions {
  /** Lines between the first line and the data format. */
  readonly header?: readonly string[];
  readonly fields?: readonly string[];
  readonly row?: (id: string, lab: LabD50, index: number) => string;
  readonly paper?: LabD50;
  readonly lineEnd?: string;
}

/** The nominal values of a card as a measuring program would write them. */
export function cardValuesText(card: ReferenceCard, options: CardValuesTextOptions = {}): string {
  const {
    header = ['ILLUMINANT "D50"', 'OBSERVER "2"'],
    fields = ['SAMPLE_ID', 'LAB_L', 'LAB_A', 'LAB_B'],
    row = (id, { L, a, b }) => `${id} ${L} ${a} ${b}`,
    paper,
    lineEnd = '\n',
  } = options;
  const rows = card.patches.map(({ id, nominal }, index) => row(id, nominal.lab, index));
  if (paper !== undefined) rows.push(row('PAPER', paper, rows.length));
  return [
    'CGATS.17',
    ...header,
    'BEGIN_DATA_FORMAT',
    fields.join('\t'),
    'END_DATA_FORMAT',
    `NUMBER_OF_SETS ${rows.length}`,
    'BEGIN_DATA',
    ...rows,
    'END_DATA',
    '',
  ].join(lineEnd);
}
