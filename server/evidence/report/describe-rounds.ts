import type { Photo, RecordPhoto, RecordRound, Streaks, Surface, SurfaceClass } from '../../domain/index.ts';
import { SURFACE_CLASSES } from '../../domain/index.ts';
import { describePhotoTime } from './describe-photo-time.ts';
import { momentWords, percent, percentWithRange, trimmed } from './quantity-words.ts';
import type { QuantityWords } from './quantity-words.ts';
import type { ReportFact, ReportPicture, RoundLine, ShareLine, StreakFinding } from './report.ts';

export const describeRounds = (rounds: readonly RecordRound[], words: QuantityWords): RoundLine[] =>
  rounds.map((round) => describeRound(round, words));

function describeRound(round: RecordRound, words: QuantityWords): RoundLine {
  const { settings, assessment } = round;
  return {
    number: round.number,
    at: momentWords(round.treatedAt),
    power: `${trimmed(settings.powerW, 0)} W`,
    scanWidth: words.length(settings.scanWidthMm),
    frequency: `${trimmed(settings.scanFrequencyHz, 1)} Hz`,
    travel: words.speed(settings.travelSpeedMmPerS),
    passes: String(settings.passes),
    minutes: round.laserOnMinutes === null ? 'not noted' : `${round.laserOnMinutes.toFixed(1)} min`,
    residueBefore: assessment.before === null ? 'no photo' : percent(assessment.before.residue.value),
    residueAfter: percentWithRange(assessment.after.residue),
    streaks: streakWords(assessment.streaks, words),
    before:
      round.before === null || assessment.before === null
        ? null
        : describePicture(`Before round ${round.number}`, round.before, assessment.before, assessment.photos.before),
    after: describePicture(`After round ${round.number}`, round.after, assessment.after, assessment.photos.after),
  };
}

function streakWords({ found, pitchMm }: Streaks, words: QuantityWords): string {
  if (!found) return 'none found';
  return pitchMm === null ? 'found' : `every ${words.length(pitchMm.value)}`;
}

export function describePicture(
  title: string,
  photo: RecordPhoto,
  surface: Surface,
  reading: Photo | null,
): ReportPicture {
  const shares = SURFACE_CLASSES.map((name) => `${name} ${percent(surface.fractions[name].value)}`).join(', ');
  return {
    title,
    photo,
    notes: [...describePhotoTime(photo), photo.file.path, ...(reading === null ? [] : readingNotes(reading))],
    worstSquare: surface.worstUnitArea,
    description: `${title}, the zone as photographed: ${shares}.`,
  };
}

function readingNotes({ widthPx, heightPx, card }: Photo): string[] {
  const notes = [`${widthPx} x ${heightPx} pixels`];
  if (card.mmPerPixel !== null) notes.push(`${card.mmPerPixel.toFixed(4)} mm per pixel in the middle of the zone`);
  if (card.colourErrorDeltaE00 !== null) {
    notes.push(`colour error ${card.colourErrorDeltaE00.median.toFixed(2)} (median CIEDE2000)`);
  }
  return notes;
}

export function describeShares(before: Surface | null, after: Surface): ShareLine[] {
  const share = (surface: Surface, name: SurfaceClass): ShareLine['after'] => ({
    share: surface.fractions[name].value,
    text: percentWithRange(surface.fractions[name]),
  });
  return SURFACE_CLASSES.map((name) => ({
    name,
    before: before === null ? null : share(before, name),
    after: share(after, name),
  }));
}

const STREAK_SENTENCES = {
  'line-pitch':
    'Stripes one stroke apart: the hand outran the mirror. Slower travel, a higher frequency or a second pass closes them.',
  'swath-seam': 'Dark seams: neighbouring swaths do not meet, or only just. Let them overlap more.',
  'dwell-band': 'Irregular bands: the hand sped up there. Keep the speed even.',
} as const;

export function describeStreaks(streaks: Streaks, words: QuantityWords): StreakFinding {
  const { kind, found, pitchMm, directionDegrees, travelSpeedMmPerS } = streaks;
  if (!found) return { kind, found, sentence: 'No streaks were found.', facts: [] };
  const facts: ReportFact[] = [
    { label: 'Contrast (CIEDE2000)', value: streaks.contrastDeltaE00.toFixed(1) },
    { label: 'Part of the zone', value: percent(streaks.affectedFraction) },
  ];
  if (pitchMm !== null) {
    const [low, high] = [words.length(pitchMm.low), words.length(pitchMm.high)];
    // Ends that print alike say nothing.
    const note = low === high ? {} : { note: `${low} to ${high}` };
    facts.unshift({ label: 'Distance between streaks', value: words.length(pitchMm.value), ...note });
  }
  if (directionDegrees !== null) {
    facts.push({ label: 'Direction', value: `${directionDegrees.toFixed(0)}° from the card’s long edge` });
  }
  if (travelSpeedMmPerS !== null) {
    const range = `${words.speed(travelSpeedMmPerS.low)} to ${words.speed(travelSpeedMmPerS.high)}`;
    facts.push({
      label: 'Speed of the hand, from the pitch',
      value: words.speed(travelSpeedMmPerS.value),
      note: range,
    });
  }
  return { kind, found, sentence: kind === null ? 'Streaks were found.' : STREAK_SENTENCES[kind], facts };
}
