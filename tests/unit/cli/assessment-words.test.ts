import { describe, expect, it } from 'vitest';
import { assessmentWords } from '../../../server/cli/assessment-words.ts';
import { measured } from '../../../server/domain/index.ts';
import { sampleAssessment } from '../../support/sample-assessment.ts';

describe('an assessment in words', () => {
  it('tells before, now and what was removed, each with its interval in percent', () => {
    const words = assessmentWords(sampleAssessment(0.08));
    expect(words).toContain('Before: residue 90.0 % (88.0 % to 92.0 %) of the zone.');
    expect(words).toContain('Now: residue 8.0 % (6.0 % to 10.0 %) of 300 cm2');
    expect(words).toMatch(/Removed: 91\.1 % \(/);
    expect(words).toContain('does not meet');
    expect(words).not.toMatch(/undefined|null|NaN|\[object/);
  });

  it('leaves out what was not asked or cannot be told', () => {
    const assessment = sampleAssessment();
    const words = assessmentWords({
      ...assessment,
      before: null,
      removed: null,
      advice: null,
      zone: { areaMm2: null, polygonMm: null },
    });
    expect(words).not.toMatch(/Before:|Removed:|Advice:|cm2|undefined|null/);
  });

  it('says where the worst square lies and passes on every warning', () => {
    const assessment = sampleAssessment();
    const words = assessmentWords({
      ...assessment,
      after: {
        ...assessment.after,
        worstUnitArea: {
          sideMm: 76,
          residueFraction: 0.31 as typeof assessment.after.unmeasuredFraction,
          stainFraction: 0 as typeof assessment.after.unmeasuredFraction,
          centreMm: [-201.4, -12.6],
        },
      },
      warnings: [{ code: 'tilted', message: 'after photo: taken 43 degrees askew' }],
    });
    expect(words).toContain('Worst 76 mm square: residue 31.0 %, centred 201 mm left of and 13 mm above');
    expect(words).toContain('Note: after photo: taken 43 degrees askew');
  });

  it('gives the first suggestion with its settings, minutes and cautions', () => {
    const assessment = sampleAssessment();
    const words = assessmentWords({
      ...assessment,
      advice: {
        verdict: 'another round',
        because: 'Residue is above the target.',
        suggestions: [
          {
            lever: 'lower frequency',
            settings: { powerW: 1500, scanWidthMm: 150, scanFrequencyHz: 30, travelSpeedMmPerS: 20, passes: 2 },
            predicted: measured(0.03, 0.01, 0.06),
            probabilityMeetsTarget: 0.8,
            minutesPerSquareMetre: 11.1,
            why: 'Longer dwell bites deeper.',
            cautions: ['Watch for heat tint.'],
          },
        ],
      } as unknown as NonNullable<typeof assessment.advice>,
    });
    expect(words).toContain('Advice: another round. Residue is above the target.');
    expect(words).toContain('lower frequency: 1500 W, 150 mm wide, 30 Hz, 20 mm/s, 2 passes; 11.1 min/m2');
    expect(words).toContain('Caution: Watch for heat tint.');
  });
});
