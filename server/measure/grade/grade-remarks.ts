/** Standing remarks for every comparison with a grade. Sources: [SP10], [ISO8501-1], [AMPP21611]. */
export const GRADE_REMARKS = [
  'These grades are written for abrasive blasting; comparing a laser-cleaned surface with them is a comparison of looks only.',
  'No formal grade for continuous-wave laser cleaning was found in force.',
  'A photo does not see surface profile, soluble salts, oil, or a thin film that is firmly bonded.',
  'Where photo and scrape test disagree, the scrape test decides; where photo and eye disagree, the eye of the inspector does.',
] as const;
