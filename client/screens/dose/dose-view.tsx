import type { ReactNode } from 'react';
import type { DosePicture } from '@domain/dose.ts';
import { minutesPerSquareMetreOf } from '@domain/kinematics/area-rate.ts';
import type { Settings } from '@domain/settings.ts';
import { words } from '../../i18n/words.ts';
import { formatNumber, formatShare } from '../../units/shown-units.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { DoseCanvas } from './dose-canvas.tsx';

/** Contrast below which nobody sees stripes on steel. Chosen by us, as in the picture's remarks. */
const LEAST_CONTRAST = 0.1;
/** Pictures are drawn no flatter than this, so that stripes of a short walk stay wide enough to see. */
const MOST_PROPORTION = 2.5;

/** What is left and what was laid, side by side. */
export function DosePictures({ picture, movedAtMs }: { picture: DosePicture; movedAtMs: number }): ReactNode {
  const proportion = Math.min(MOST_PROPORTION, picture.widthMm / picture.lengthMm);
  const most = Math.max(1e-9, ...picture.energyJPerCm2.map((row) => Math.max(...row)));
  return (
    <div className="dose-pictures">
      <DoseCanvas
        cells={picture.residueFraction}
        most={1}
        ramp="residue"
        proportion={proportion}
        word={words.dose.leftAlt(formatShare(picture.meanResidueFraction))}
        title={words.dose.left}
        movedAtMs={movedAtMs}
      />
      <DoseCanvas
        cells={picture.energyJPerCm2}
        most={most}
        ramp="energy"
        proportion={proportion}
        word={words.dose.laidAlt(energyWords(picture))}
        title={words.dose.laid}
        movedAtMs={movedAtMs}
      />
    </div>
  );
}

/** What the pictures say in numbers, and their remarks. */
export function DoseNumbers({ picture, settings }: { picture: DosePicture; settings: Settings }): ReactNode {
  const units = useUnits();
  return (
    <>
      <DoseFacts picture={picture} settings={settings} />
      <ul className="points">
        {picture.remarks.map((remark) => (
          <li key={remark}>{sentenceInUnits(remark, units)}</li>
        ))}
      </ul>
    </>
  );
}

const energyWords = ({ meanEnergyJPerCm2 }: DosePicture): string => `${formatNumber(meanEnergyJPerCm2, 0)} J/cm²`;

function DoseFacts({ picture, settings }: { picture: DosePicture; settings: Settings }): ReactNode {
  const units = useUnits();
  const fine = (mm: number): string =>
    `${formatNumber(units.lengthOf(mm), units.system === 'inches' ? 4 : 2)} ${units.lengthUnit}`;
  const stripes =
    picture.stripeContrast < LEAST_CONTRAST
      ? words.dose.stripesNone
      : words.dose.stripesShare(formatShare(picture.stripeContrast));
  const facts: readonly (readonly [string, string])[] = [
    [words.dose.fluence, `${formatNumber(picture.strokeFluenceJPerCm2, 1)} J/cm²`],
    [words.dose.energy, energyWords(picture)],
    [words.dose.pitch, `${fine(picture.linePitchMm)} ${words.dose.pitchAgainst(fine(picture.spotDiameterMm))}`],
    [words.dose.gap, fine(picture.edgeGapMm)],
    [words.dose.residue, formatShare(picture.meanResidueFraction)],
    [words.dose.stripes, stripes],
    [words.dose.rate, units.rate(minutesPerSquareMetreOf(settings))],
  ];
  return (
    <dl className="facts facts-wide">
      {facts.map(([title, text]) => (
        <div key={title}>
          <dt>{title}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  );
}
