import { type History, type Settings } from '../../domain/index.ts';
import { arealEnergy } from '../../domain/energy/areal-energy.ts';
import { meanIrradianceKwPerCm2 } from '../../domain/energy/irradiance.ts';
import { strokeFluence } from '../../domain/energy/stroke-fluence.ts';
import { bulkTemperatureRise } from '../heat/bulk-warming.ts';
import { halfSpaceTemperatureRise } from '../heat/half-space-temperature.ts';
import {
  AMBIENT_CELSIUS,
  MILD_STEEL,
  RUSTY_ABSORPTIVITY,
  SOLIDUS_CELSIUS,
  STEEL_ABSORPTIVITY,
} from '../heat/steel-properties.ts';
import { dwellTime } from '../../domain/kinematics/dwell-time.ts';
import { edgeGap, linePitch } from '../../domain/kinematics/line-pitch.ts';
import { surfaceKindOf } from '../../domain/removal/surface-kind.ts';

/** Plates that warm by more than this in a round are worth a word, and by more than the second a pause. Common practice. */
const WARM_KELVIN = 60;
const HOT_KELVIN = 150;
/** A plate of unknown thickness is spoken of as if it were this thin. */
const THIN_PLATE_MM = 3;
/** Longest exposure of the published continuous-wave window for mill scale, seconds. Source: [DESCALING]. */
const LONGEST_DWELL_S = 400e-6;
/** Strokes deeper than the latest by this factor change the look of the metal. Common practice. */
const MUCH_DEEPER = 1.5;

/** What to watch for in a round at these settings, in plain words. */
export function roundCautions(history: History, settings: Settings): string[] {
  const cautions = [
    ...gapCautions(history, settings),
    ...skinCautions(history, settings),
    ...plateCautions(history, settings),
  ];
  const latest = history.rounds.at(-1);
  if (latest?.heatTint === true) {
    cautions.push('The last round left heat tint; let the steel cool to hand warmth before going on.');
  }
  if (latest !== undefined) {
    const deeper = strokeFluence(settings, history.machine) / strokeFluence(latest.settings, history.machine);
    if (deeper >= MUCH_DEEPER) {
      cautions.push(`Strokes bite ${deeper.toFixed(1)} times deeper than in the last round; expect a coarser surface.`);
    }
  }
  if (surfaceKindOf(history.surface) === 'paint') {
    cautions.push(
      'Fume from old paint may hold lead or chromium; know what it is, extract it and protect your breathing.',
    );
  }
  return cautions;
}

function gapCautions({ machine }: History, settings: Settings): string[] {
  const spot = machine.spotDiameterMm;
  const [pitch, edge] = [linePitch(settings, machine), edgeGap(settings, machine)];
  if (pitch > spot) {
    return [
      `Strokes lie ${pitch.toFixed(2)} mm apart but the spot is ${spot} mm: stripes will stay where the beam was not long enough on the metal.`,
    ];
  }
  if (edge <= spot * (1 + 1e-9)) return [];
  return [
    `At both ends of the line strokes open to ${edge.toFixed(2)} mm, wider than the ${spot} mm spot; overlap the swaths or stripes will stay there.`,
  ];
}

function skinCautions({ machine }: History, settings: Settings): string[] {
  const dwell = dwellTime(settings, machine);
  const rise = halfSpaceTemperatureRise(
    meanIrradianceKwPerCm2(settings, machine),
    dwell,
    STEEL_ABSORPTIVITY,
    MILD_STEEL,
  );
  const cautions: string[] = [];
  if (AMBIENT_CELSIUS + rise >= SOLIDUS_CELSIUS) {
    cautions.push(
      'Strokes this slow may melt the skin of clean steel by a simple heat estimate; try a small patch first and look at the texture.',
    );
  }
  if (dwell > LONGEST_DWELL_S) {
    cautions.push(
      `The spot rests ${Math.round(dwell * 1e6)} µs on a point, longer than the 400 µs published for taking off scale; watch for heat tint.`,
    );
  }
  return cautions;
}

function plateCautions({ thicknessMm }: History, settings: Settings): string[] {
  const thickness = thicknessMm ?? THIN_PLATE_MM;
  const rise = bulkTemperatureRise(arealEnergy(settings), thickness, RUSTY_ABSORPTIVITY, MILD_STEEL);
  if (rise < WARM_KELVIN) return [];
  const plate = thicknessMm === undefined ? `A ${THIN_PLATE_MM} mm plate` : `The ${thicknessMm} mm plate`;
  const warming = `${plate} may warm by up to ${roundTo(rise, 10)} °C in this round`;
  if (rise < HOT_KELVIN) return [`${warming}; check what lies behind it.`];
  const pause = settings.passes > 1 ? 'let it cool between passes' : 'work in short stretches';
  return [`${warming}: ${pause}, watch for distortion and for paint or lining burning behind it.`];
}

const roundTo = (value: number, step: number): number => Math.round(value / step) * step;
