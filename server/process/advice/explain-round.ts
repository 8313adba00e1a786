import { type History, type Lever, type Measured, type Settings } from '../../domain/index.ts';
import { arealEnergy } from '../../domain/energy/areal-energy.ts';
import { strokeFluence } from '../../domain/energy/stroke-fluence.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { type Aim } from './aim.ts';
import { type Planning } from './round-prospect.ts';

export const percent = (share: number): string => `${(100 * share).toFixed(share < 0.0995 ? 1 : 0)} %`;
const number = (value: number): string => (value < 10 ? value.toFixed(1) : value.toFixed(0));

/** Two plain sentences: what changes and what it costs, and what to expect of it and of what may have to follow. */
export function explainRound(
  { history, aim }: Planning,
  lever: Lever,
  settings: Settings,
  expected: { predicted: Measured; probability: number; totalMinutes: number },
): string {
  const fluence = number(strokeFluence(settings, history.machine));
  const energy = number(arealEnergy(settings));
  const minutes = number(minutesPerSquareMetreOf(settings));
  const { predicted, probability, totalMinutes } = expected;
  const chance = `${Math.round(100 * probability)} %`;
  return (
    `${change(lever, history.rounds.at(-1)?.settings, settings)}, ` +
    `each stroke brings ${fluence} J/cm2 and the round ${energy} J/cm2 in ${minutes} min/m2. ` +
    `Residue should come to ${percent(predicted.value)} (${percent(predicted.low)} to ${percent(predicted.high)}), ` +
    `with a chance of ${chance} for ${aimWords(history, aim)}; with the rounds that may have to follow it should take ` +
    `about ${number(totalMinutes)} min/m2 in all.`
  );
}

/** The share aimed at; of the whole zone, where a grade judges its worst square. */
function aimWords({ rounds, target }: History, { target: aimed }: Aim): string {
  const isSquare = rounds.at(-1)?.after.worstSquare !== undefined;
  const whole = `${percent(aimed)} or less`;
  return isSquare
    ? `${whole} of the whole zone, which should leave its worst 76 mm square ${percent(target.residueFractionMax)} or less`
    : whole;
}

function change(lever: Lever, latest: Settings | undefined, settings: Settings): string {
  const { scanWidthMm, scanFrequencyHz, travelSpeedMmPerS, passes } = settings;
  const whole = `At ${scanWidthMm} mm, ${scanFrequencyHz} Hz and ${travelSpeedMmPerS} mm/s in ${passesWords(passes)}`;
  if (latest === undefined) return whole;
  switch (lever) {
    case 'more passes':
      return `With ${passesWords(passes)} instead of ${latest.passes}`;
    case 'lower frequency':
      return `At ${scanFrequencyHz} Hz instead of ${latest.scanFrequencyHz} Hz and unchanged width`;
    case 'narrower width':
      return `At ${scanWidthMm} mm instead of ${latest.scanWidthMm} mm width`;
    case 'slower travel':
      return `At ${travelSpeedMmPerS} mm/s instead of ${latest.travelSpeedMmPerS} mm/s`;
    case 'combination':
      return whole;
  }
}

const passesWords = (passes: number): string => (passes === 1 ? 'one pass' : `${passes} passes`);
