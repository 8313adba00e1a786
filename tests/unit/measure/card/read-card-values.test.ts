import { describe, expect, it } from 'vitest';
import { faultSentence } from '../../../../server/domain/index.ts';
import type { LabD50 } from '../../../../server/domain/index.ts';
import { referenceCard } from '../../../../server/measure/card/card-layout.ts';
import { readCardValues } from '../../../../server/measure/card/read-card-values.ts';
import type { CardValues } from '../../../../server/measure/card/read-card-values.ts';
import { bradfordMatrix } from '../../../../server/measure/colour/chromatic-adaptation.ts';
import { labToXyz, xyzToLab } from '../../../../server/measure/colour/cie-lab.ts';
import { applyColourMatrix } from '../../../../server/measure/colour/colour-matrix.ts';
import { ILLUMINANTS, WHITE_D50, whitePoint } from '../../../../server/measure/colour/white-point.ts';
import type { WhitePoint } from '../../../../server/measure/colour/white-point.ts';
import { cardValuesText } from '../../../support/card-values-text.ts';

const card = referenceCard();
const PAPER: LabD50 = { L: 94.5, a: 1.2, b: -4.1 };

function read(text: string): CardValues {
  const outcome = readCardValues(text, card);
  if (!outcome.ok) throw new Error(faultSentence(outcome.fault));
  return outcome.value;
}

function refuse(text: string): { code: string; sentence: string; line: number | null } {
  const outcome = readCardValues(text, card);
  if (outcome.ok) throw new Error('Expected a refusal');
  const { fault } = outcome;
  return { code: fault.code, sentence: faultSentence(fault), line: 'line' in fault ? fault.line : null };
}

function expectNominal(values: CardValues, digits: number): void {
  expect(values.patches.size).toBe(card.patches.length);
  for (const { id, nominal } of card.patches) {
    const lab = values.patches.get(id);
    expect(lab?.L).toBeCloseTo(nominal.lab.L, digits);
    expect(lab?.a).toBeCloseTo(nominal.lab.a, digits);
    expect(lab?.b).toBeCloseTo(nominal.lab.b, digits);
  }
}

/** Lab D50 of a colour as an instrument set to another white would report it. */
function seenUnder(white: WhitePoint, lab: LabD50): [number, number, number] {
  const out: [number, number, number] = [lab.L, lab.a, lab.b];
  labToXyz(out, WHITE_D50, out);
  applyColourMatrix(bradfordMatrix(WHITE_D50, white), out, out);
  return out;
}

describe('reading measured card values', () => {
  it('reads Lab for D50 and 2 degrees as it stands', () => {
    const values = read(cardValuesText(card, { paper: PAPER }));
    expectNominal(values, 10);
    expect(values.paper).toEqual(PAPER);
    expect(values.condition).toEqual({ illuminant: 'D50', observerDegrees: 2 });
    expect(values.assumed).toEqual([]);
  });

  it('has no paper value when the file has none', () => {
    expect(read(cardValuesText(card)).paper).toBeNull();
  });

  it('reads XYZ on a scale of 100, and one on a scale of 1 with a note', () => {
    for (const scale of [100, 1]) {
      const text = cardValuesText(card, {
        fields: ['SAMPLE_ID', 'XYZ_X', 'XYZ_Y', 'XYZ_Z'],
        row: (id, lab) => [id, ...seenUnder(WHITE_D50, lab).map((value) => (value * scale).toFixed(6))].join(' '),
      });
      const values = read(text);
      expectNominal(values, 2);
      expect(values.assumed.length).toBe(scale === 1 ? 1 : 0);
    }
  });

  // From CIE XYZ 41.24, 21.26, 1.93 (sRGB red under D65): Lab 53.24, 80.09, 67.20, under D50 54.29, 80.81, 69.89.
  it('adapts a colour measured under D65 to the known values of sRGB red under D50', () => {
    const red = read(
      cardValuesText(card, {
        header: ['ILLUMINANT "D65"', 'OBSERVER "2"'],
        row: (id, { L, a, b }) => (id === 'B1' ? 'B1 53.2408 80.0925 67.2032' : `${id} ${L} ${a} ${b}`),
      }),
    ).patches.get('B1');
    expect(red?.L).toBeCloseTo(54.2917, 2);
    expect(red?.a).toBeCloseTo(80.8124, 2);
    expect(red?.b).toBeCloseTo(69.8851, 2);
  });

  it.each(ILLUMINANTS.flatMap((illuminant) => ([2, 10] as const).map((observer) => [illuminant, observer] as const)))(
    'brings values for %s and %i degrees to D50, whether given as Lab or as XYZ',
    (illuminant, observer) => {
      const white = whitePoint(illuminant, observer);
      const header = [`ILLUMINANT "${illuminant}"`, `OBSERVER "${observer}"`];
      const asXyz = cardValuesText(card, {
        header,
        fields: ['SAMPLE_ID', 'XYZ_X', 'XYZ_Y', 'XYZ_Z'],
        row: (id, lab) => [id, ...seenUnder(white, lab).map((value) => (100 * value).toFixed(8))].join('\t'),
      });
      const asLab = cardValuesText(card, {
        header,
        row: (id, lab) => {
          const out = seenUnder(white, lab);
          xyzToLab(out, white, out);
          return [id, ...out.map((value) => value.toFixed(8))].join('\t');
        },
      });
      for (const text of [asXyz, asLab]) {
        const values = read(text);
        expectNominal(values, 4);
        expect(values.condition).toEqual({ illuminant, observerDegrees: observer });
        expect(values.assumed.some((note) => note.includes('10 degree'))).toBe(observer === 10);
      }
    },
  );

  // Forms of the keyword that measuring programs write; the sixth is the descriptor of a published IT8 reference file.
  it.each([
    [['ILLUMINANT "D65"', 'OBSERVER "10"'], 'D65', 10],
    [['ILLUMINATION_NAME "D65"', 'OBSERVER_ANGLE "2"'], 'D65', 2],
    [['WEIGHTING_FUNCTION "ILLUMINANT, D65"', 'WEIGHTING_FUNCTION "OBSERVER, 10 degree"'], 'D65', 10],
    [['MEASUREMENT_SOURCE "Illumination=D65\tObserverAngle=2\tWhiteBase=Abs\tFilter=No"'], 'D65', 2],
    [['MEASUREMENT_SOURCE "Illumination=FL11 ObserverAngle=10°"'], 'F11', 10],
    [['DESCRIPTOR "L* a* b* batch average data (light D50, viewing angle 2)"'], 'D50', 2],
    [['ILLUMINANT A', 'OBSERVER "CIE 1964"'], 'A', 10],
    [['illuminant d55', 'observer 1931'], 'D55', 2],
  ] as const)('understands the measuring condition in %j', (header, illuminant, observerDegrees) => {
    const values = read(cardValuesText(card, { header }));
    expect(values.condition).toEqual({ illuminant, observerDegrees });
    expect(values.assumed.filter((note) => note.includes('names none'))).toEqual([]);
  });

  it('takes D50 and 2 degrees when the file is silent, and says so', () => {
    const values = read(cardValuesText(card, { header: ['DESCRIPTOR "a light grey card, read by observer Lee"'] }));
    expect(values.condition).toEqual({ illuminant: 'D50', observerDegrees: 2 });
    expect(values.assumed).toHaveLength(2);
    expect(values.assumed.join(' ')).toMatch(/D50.*2 degree/);
  });

  it('takes the condition from an earlier header of the file when its own is silent', () => {
    const first =
      'CGATS.17\nILLUMINANT D65\nOBSERVER 2\nBEGIN_DATA_FORMAT\nSAMPLE_ID D_RED\nEND_DATA_FORMAT\nBEGIN_DATA\nA1 0.1\nEND_DATA\n';
    const values = read(first + cardValuesText(card, { header: [] }));
    expect(values.condition.illuminant).toBe('D65');
    expect(values.assumed).toEqual([]);
  });

  it.each([
    ['Windows line ends', { lineEnd: '\r\n' }],
    ['old line ends', { lineEnd: '\r' }],
    ['comments', { header: ['# made by hand', 'ILLUMINANT D50 # as set', 'OBSERVER 2', '', '   '] }],
    [
      'quoted names, tabs and more columns',
      {
        fields: ['INDEX', 'SAMPLE_NAME', 'D_VIS', 'LAB_B', 'LAB_A', 'LAB_L'],
        row: (id: string, { L, a, b }: LabD50, index: number) => `${index}\t"${id}"\t0.3\t${b}\t${a}\t${L}`,
      },
    ],
    [
      'lower-case and zero-padded names',
      { row: (id: string, { L, a, b }: LabD50) => `${id[0].toLowerCase()}0${id[1]} ${L} ${a} ${b}` },
    ],
    [
      'numbered SAMPLE_ID beside the names',
      {
        fields: ['SAMPLE_ID', 'SAMPLE_NAME', 'LAB_L', 'LAB_A', 'LAB_B'],
        row: (id: string, { L, a, b }: LabD50, index: number) => `${index + 1} ${id} ${L} ${a} ${b}`,
      },
    ],
    [
      'exponents',
      { row: (id: string, { L, a, b }: LabD50) => `${id} ${[L, a, b].map((v) => v.toExponential(6)).join(' ')}` },
    ],
  ])('tolerates %s', (_what, options) => {
    const values = read(cardValuesText(card, options));
    expectNominal(values, 4);
    expect(values.assumed).toEqual([]);
  });

  it('takes a decimal comma for what it is, and says so', () => {
    const text = cardValuesText(card, {
      row: (id, { L, a, b }) => `${id} ${[L, a, b].map((v) => v.toFixed(2).replace('.', ',')).join(' ')}`,
    });
    const values = read(text);
    expectNominal(values, 6);
    expect(values.assumed).toEqual(['Commas in numbers are taken as decimal commas']);
  });

  it('takes the first table that has colours of this card', () => {
    const other = cardValuesText(card, { row: (id) => `X${id} 50 0 0` });
    const density = other.replace(/LAB_/g, 'D_');
    expectNominal(read(density + other + cardValuesText(card)), 10);
  });

  it('averages repeated readings of one patch and refuses readings that disagree', () => {
    const [first] = card.patches;
    const { L, a, b } = first.nominal.lab;
    const twice = (shift: number): string =>
      cardValuesText(card)
        .replace('BEGIN_DATA\n', `BEGIN_DATA\n${first.id} ${L - shift} ${a} ${b}\n`)
        .replace('NUMBER_OF_SETS 48', 'NUMBER_OF_SETS 49');
    expect(read(twice(1)).patches.get(first.id)?.L).toBeCloseTo(L - 0.5, 10);
    const refused = refuse(twice(20));
    expect(refused.code).toBe('card-values-malformed');
    expect(refused.sentence).toContain('CIEDE2000');
  });

  it('passes over rows that are no patch of the card', () => {
    const text = cardValuesText(card)
      .replace('BEGIN_DATA\n', 'BEGIN_DATA\nZ9 none none none\n')
      .replace('NUMBER_OF_SETS 48', 'NUMBER_OF_SETS 49');
    expectNominal(read(text), 10);
  });
});

describe('refusing card values', () => {
  const good = cardValuesText(card);
  const lineOf = (text: string, start: string): number =>
    text.split('\n').findIndex((line) => line.startsWith(start)) + 1;
  const lab = card.patches[3].nominal.lab;
  const row = `A4 ${lab.L} ${lab.a} ${lab.b}`;

  it.each([
    ['a word in place of a number', good.replace(row, 'A4 55.9 zero 0'), 'A4'],
    ['a value that no print has', good.replace(row, 'A4 155.9 0 0'), 'A4'],
    ['NaN', good.replace(row, 'A4 NaN 0 0'), 'A4'],
    ['infinity', good.replace(row, 'A4 1e999 0 0'), 'A4'],
    ['a row that is too short', good.replace(row, 'A4 55.9 0'), 'A4'],
    ['a row that is too long', good.replace(row, `${row} 7`), 'A4'],
    ['fewer rows than announced', good.replace(`${row}\n`, ''), 'NUMBER_OF_SETS'],
    ['a file that stops in the middle', good.slice(0, good.indexOf('D1 ')), 'C7'],
    ['an unknown illuminant', good.replace('"D50"', '"D93"'), 'ILLUMINANT'],
    ['an illuminant given as a temperature', good.replace('"D50"', '"6500K"'), 'ILLUMINANT'],
    ['an unknown observer', good.replace('OBSERVER "2"', 'OBSERVER "4"'), 'OBSERVER'],
    ['two illuminants', good.replace('OBSERVER "2"', 'MEASUREMENT_SOURCE "Illumination=D65"'), 'MEASUREMENT_SOURCE'],
  ])('names the line of %s', (_what, text, start) => {
    const refused = refuse(text);
    expect(refused.code).toBe('card-values-malformed');
    expect(refused.line).toBe(lineOf(text, start));
    expect(refused.sentence).toContain(`line ${refused.line}`);
  });

  it.each([
    ['an empty file', ''],
    ['prose', 'The card was measured on Monday.'],
    ['a table without colours', good.replace(/LAB_/g, 'D_')],
    ['a table without names', good.replace('SAMPLE_ID', 'INDEX')],
    ['a file of another size altogether', 'x'.repeat(1_000_001)],
  ])('refuses %s', (_what, text) => {
    expect(refuse(text).code).toBe('card-values-malformed');
  });

  it('refuses XYZ whose scale cannot be told', () => {
    const text = cardValuesText(card, {
      fields: ['SAMPLE_ID', 'XYZ_X', 'XYZ_Y', 'XYZ_Z'],
      row: (id) => `${id} 4 5 3`,
    });
    expect(refuse(text).sentence).toContain('XYZ_Y');
  });

  it('lists the patches that are missing', () => {
    const text = good.replace(/^(A1|L2) .*\n/gm, '').replace('NUMBER_OF_SETS 48', 'NUMBER_OF_SETS 46');
    const refused = refuse(text);
    expect(refused.code).toBe('card-values-mismatch');
    expect(refused.sentence).toContain('A1, L2');
  });

  it('takes a table of another card as one that lacks all patches', () => {
    const text = cardValuesText(card, { row: (id) => `GS${id} 50 0 0` });
    expect(refuse(text).code).toBe('card-values-mismatch');
  });
});
