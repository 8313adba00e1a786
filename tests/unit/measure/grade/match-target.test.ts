import { describe, expect, it } from 'vitest';
import { faultSentence, STANDARD_GRADES } from '../../../../server/domain/index.ts';
import { gradeTitle, matchTarget, residueTargetOf } from '../../../../server/measure/grade/match-target.ts';

const gradeOf = (text: string): string | null => {
  const match = matchTarget(text);
  return match.ok ? match.value.grade : null;
};

describe('matching a target grade', () => {
  it.each([
    ['Sa 2.5', 'Sa 2 1/2'],
    ['Sa 2,5', 'Sa 2 1/2'],
    ['sa2½', 'Sa 2 1/2'],
    ['SA 2 1/2', 'Sa 2 1/2'],
    ['Sa2-1/2', 'Sa 2 1/2'],
    ['ISO 8501-1 Sa 2 1/2', 'Sa 2 1/2'],
    ['ISO 8501-1:2007 Sa 3', 'Sa 3'],
    ['Sa 2', 'Sa 2'],
    ['sa1', 'Sa 1'],
    ['SSPC-SP 10', 'Near-White Metal'],
    ['SP10', 'Near-White Metal'],
    ['NACE No. 2', 'Near-White Metal'],
    ['SSPC-SP 10 / NACE No. 2', 'Near-White Metal'],
    ['near-white', 'Near-White Metal'],
    ['sp 5', 'White Metal'],
    ['Commercial blast cleaning', 'Commercial'],
    ['nace 8', 'Industrial'],
    ['SP 14', 'Industrial'],
    ['Brush-off', 'Brush-Off'],
  ])('reads "%s" as %s', (text, grade) => {
    expect(gradeOf(text)).toBe(grade);
  });

  it('finds every grade by its own title and its own name', () => {
    for (const grade of STANDARD_GRADES) {
      expect(gradeOf(gradeTitle(grade))).toBe(grade.grade);
      expect(gradeOf(grade.grade)).toBe(grade.grade);
    }
  });

  it.each(['', ' ', 'Sa 4', 'Sa 2 3/4', 'St 3', 'SP 11', '5 %', 'clean', 'sa25000'])(
    'refuses "%s" and says what is known',
    (text) => {
      const match = matchTarget(text);
      expect(match.ok).toBe(false);
      if (match.ok) return;
      expect(match.fault.code).toBe('target-unknown');
      expect(faultSentence(match.fault)).toContain('SSPC-SP 10 / NACE No. 2');
    },
  );
});

describe('the residue share that advice aims at for a grade', () => {
  it('is the grade’s own limit, what reads as none, or nothing where adhesion is asked', () => {
    const targets = Object.fromEntries(STANDARD_GRADES.map((grade) => [grade.grade, residueTargetOf(grade)]));
    expect(targets).toEqual({
      'Sa 3': 0.02,
      'Sa 2 1/2': 0.02,
      'Sa 2': null,
      'Sa 1': null,
      'White Metal': 0.02,
      'Near-White Metal': 0.02,
      Commercial: 0.02,
      Industrial: 0.1,
      'Brush-Off': null,
    });
  });
});
