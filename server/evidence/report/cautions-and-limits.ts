import type { InspectionRecord } from '../../domain/index.ts';
import { dewPointMargin } from '../../domain/dew-point-margin.ts';
import { percent } from './quantity-words.ts';

/** Below, heat tint is as good as none. Chosen here: half of what a person notices on a hand-sized spot. */
const NOTABLE_TINT = 0.005;
/** Share of coating that is spoken of: what the print shows as 0.1 %. */
const NOTABLE_COATING = 0.0005;
/** Left unmeasured: from here on the shares may miss something that matters. Common practice. */
const NOTABLE_UNMEASURED = 0.05;
/** Flash rust can begin within hours on bare steel in damp air; from here on the age of the finding is stated. Common practice. */
const LONG_WAIT_MINUTES = 240;

/** What the next person must mind, the weightiest first. Usual cautions; they replace no rule of the site. */
export function cautionsOf(record: InspectionRecord): string[] {
  const { after } = lastRound(record).assessment;
  const { readings } = record;
  const cautions: string[] = [];
  const climate = readings.climate?.value;
  if (climate !== undefined && dewPointMargin(climate).decision !== 'meets') {
    cautions.push(
      'Steel too near the dew point: water may stand on it unseen. Do not coat before it is warmer or drier.',
    );
  }
  if (readings.scrapeTest?.value.result === 'material came off') {
    cautions.push('The scrape test brought material off: what looks clean is not everywhere bound steel.');
  }
  if (after.appearance.heatTintFraction > NOTABLE_TINT) {
    cautions.push(
      `Heat tint on ${percent(after.appearance.heatTintFraction)} of the measured part: the steel was hot there. Thin plate may warp; the tint tells no temperature.`,
    );
  }
  if (after.fractions.coating.value >= NOTABLE_COATING) {
    const found =
      after.fractions.coating.low >= NOTABLE_COATING ? 'Paint was found.' : 'Some of the residue may be paint.';
    cautions.push(
      `${found} Old paint may hold lead or chromate: have it tested before any more laser work; the fume is toxic.`,
    );
  }
  if ((readings.timeSinceCleaning?.value.minutes ?? 0) >= LONG_WAIT_MINUTES) {
    cautions.push('The steel has stood for hours since cleaning: look for flash rust again before coating.');
  }
  cautions.push(
    'Class 4 laser: the beam and its reflections blind and burn. Controlled area, protection for the wavelength, a laser safety officer.',
    'Fume and hot work: extraction at the source, breathing protection, a fire watch after the work. Follow the site’s own rules.',
  );
  return cautions;
}

/** What this record cannot show. */
export function limitsOf(record: InspectionRecord): string[] {
  const { assessment } = lastRound(record);
  const limits = [
    'It shows what a camera can see. Salts, oil, dust, moisture, adhesion and the surface profile cannot be read from a photo; they are stated only where a person entered them.',
    'The grades were written for blast-cleaned steel and are judged by eye. Here they are compared with a measurement; laser-cleaned steel looks different, so a decision is a help to the inspector, not the grade itself.',
    'Intervals are meant to hold the true value in 95 of 100 cases, for surfaces like those the method was tried on. They cover the zone as photographed, nothing beside it.',
    'Surface and card are taken as one plane. Curved steel, or a card that stands off it, falsifies lengths and areas.',
  ];
  if (record.card.values !== 'measured') {
    limits.push(
      'The card’s patches were not measured: their design values are met by a printer only roughly, which widens the colour error.',
    );
  }
  if (assessment.after.unmeasuredFraction > NOTABLE_UNMEASURED) {
    limits.push(
      `${percent(assessment.after.unmeasuredFraction)} of the zone was glare, shadow or out of focus and is in no share.`,
    );
  }
  if (!assessment.photos.after.card.found) {
    limits.push('No card was in view of the last photo: nothing is stated in millimetres.');
  }
  if (record.readings.scrapeTest === null) {
    limits.push('No scrape test was entered: loose or thin clear residue would not show in the photo.');
  }
  return limits;
}

const lastRound = ({ rounds }: InspectionRecord): InspectionRecord['rounds'][number] => rounds[rounds.length - 1];
