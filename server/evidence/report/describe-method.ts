import type { ColourError, InspectionRecord, Photo } from '../../domain/index.ts';
import type { QuantityWords } from './quantity-words.ts';
import type { ReportFact } from './report.ts';

/** How the last round was measured: card, colour, scale, programs. */
export function describeMethod(
  { card, rounds, versions, machine }: InspectionRecord,
  words: QuantityWords,
): ReportFact[] {
  const { photos } = rounds[rounds.length - 1].assessment;
  const { before, after } = photos;
  return [
    { label: 'Reference card', value: `edition ${card.edition}, ${card.values}`, note: card.file.path },
    ...(before === null ? [] : photoFacts('before', before, words)),
    ...photoFacts('after', after, words),
    {
      label: 'Machine',
      value: machine.serialNumber === null ? machine.name : `${machine.name}, serial number ${machine.serialNumber}`,
    },
    { label: 'Program', value: versions.program, note: `classes by ${versions.segmenter}` },
  ];
}

function photoFacts(which: 'before' | 'after', { card }: Photo, words: QuantityWords): ReportFact[] {
  if (!card.found) return [{ label: `Card in the ${which} photo`, value: 'not in view: no scale, plain colours' }];
  const facts: ReportFact[] = [];
  if (card.mmPerPixel !== null) {
    const sigma = card.mmPerPixelRelativeSigma;
    const uncertainty = sigma === undefined ? '' : ` ± ${(100 * 1.96 * sigma).toFixed(1)} %`;
    const tilt = card.tiltDegrees === null ? '' : `, camera tilted ${card.tiltDegrees.toFixed(0)}°`;
    facts.push({ label: `Scale, ${which}`, value: `${card.mmPerPixel.toFixed(4)} mm per pixel${uncertainty}${tilt}` });
  }
  if (card.colourErrorDeltaE00 !== null) {
    facts.push({
      label: `Colour error, ${which} (CIEDE2000)`,
      value: errorWords(card.colourErrorDeltaE00),
      note: 'on patches that took no part in the fit',
    });
  }
  return facts.length > 0 ? facts : [{ label: `Card in the ${which} photo`, value: words.length(0) }];
}

const errorWords = ({ median, p95, max }: ColourError): string =>
  `median ${median.toFixed(2)}, 95 % below ${p95.toFixed(2)}, largest ${max.toFixed(2)}`;
