import { STANDARD_GRADES } from '../../domain/index.ts';
import type { Grade, Measured, Round, StandardGrade, Surface } from '../../domain/index.ts';
import { gradeRuleOf } from './grade-rules.ts';
import type { GradeRule } from './grade-rules.ts';
import { percentWords, weighLimit, weighNone, weighTogether } from './weigh-evidence.ts';
import type { Weighed } from './weigh-evidence.ts';
import type { WorstSquareShares } from './worst-square-shares.ts';

export interface GradeOptions {
  /** The worst 76 mm squares; null when none fits the zone, so that the zone itself has to be judged. */
  readonly worst: WorstSquareShares | null;
  /** What a dull putty knife brought off, if somebody tried. */
  readonly scrapeTest?: Round['scrapeTest'];
  readonly grades?: readonly StandardGrade[];
}

/** What a grade is weighed on. */
interface Evidence {
  readonly residue: Measured;
  readonly stain: Measured;
  /** Of the whole zone, for grades in words that know no unit area. */
  readonly zoneResidue: Measured;
  readonly scrapeTest: Round['scrapeTest'] | undefined;
}

/**
 * Compares a surface with the published grades. Each grade gets a decision only where the photo's shares or the scrape
 * test decide; the limits hold for each unit area, so the worst square counts, not the mean. A comparison in support of
 * whoever inspects: see GRADE_REMARKS for what it is not.
 */
export function gradeSurface(surface: Pick<Surface, 'residue' | 'fractions'>, options: GradeOptions): Grade[] {
  const evidence: Evidence = {
    residue: options.worst?.residue ?? surface.residue,
    stain: options.worst?.stain ?? surface.fractions.stain,
    zoneResidue: surface.residue,
    scrapeTest: options.scrapeTest,
  };
  const hasSquare = options.worst !== null;
  return (options.grades ?? STANDARD_GRADES).map((standardGrade) => {
    const rule = gradeRuleOf(standardGrade);
    const { decision, words, decidedBy } = weighTogether([weighResidue(rule, evidence), ...weighStain(rule, evidence)]);
    return { ...standardGrade, decision, because: `${placeOf(hasSquare, decidedBy)}, ${words}.` };
  });
}

/** Residue and stain have their worst squares in different places, as a rule. */
function placeOf(hasSquare: boolean, decidedBy: number): string {
  if (!hasSquare) return 'In the whole zone, which holds no 76 mm square';
  return decidedBy === 1 ? 'In the worst 76 mm square' : 'In the worst 76 mm square of each';
}

function weighResidue({ residue: asked }: GradeRule, { residue, zoneResidue, scrapeTest }: Evidence): Weighed {
  // Material that a dull knife lifts is loose, and no grade allows loose material.
  if (scrapeTest === 'material came off') {
    return { decision: 'does not meet', words: 'the scrape test brought material off, which no grade allows' };
  }
  if (asked === 'none') return weighNone('residue', residue);
  if (asked === 'firm only') return weighAdhesion(scrapeTest);
  if (asked === 'most removed') return weighMostRemoved({ residue, zoneResidue, scrapeTest });
  return weighLimit('residue', residue, asked);
}

function weighAdhesion(scrapeTest: Round['scrapeTest'] | undefined): Weighed {
  return scrapeTest === 'clean'
    ? { decision: 'meets', words: 'the scrape test brought nothing off, so what is left adheres' }
    : { decision: 'cannot tell', words: 'a photo does not show whether residue is loose; the scrape test decides' };
}

/** "Most" is a word, not a share: only more than half of the zone refutes it, and only nothing left anywhere settles it. */
const HALF = 0.5;

function weighMostRemoved(evidence: Pick<Evidence, 'residue' | 'zoneResidue' | 'scrapeTest'>): Weighed {
  const { residue, zoneResidue, scrapeTest } = evidence;
  if (zoneResidue.low > HALF) {
    return {
      decision: 'does not meet',
      words: `as in the whole zone, most is not removed: residue of the zone ${percentWords(zoneResidue.value)} (at least ${percentWords(zoneResidue.low)}) is more than half`,
    };
  }
  const none = weighNone('residue', residue);
  if (none.decision === 'meets') return none;
  const left = `residue ${percentWords(residue.value)} is left and the standard gives no share for "most"`;
  const adhesion =
    scrapeTest === 'clean' ? 'the scrape test found it firm' : 'a photo does not show whether it is firm';
  return { decision: 'cannot tell', words: `${left}, while ${adhesion}; compare by eye` };
}

function weighStain({ stain: asked }: GradeRule, { stain }: Evidence): Weighed[] {
  if (asked === null) return [];
  if (asked === 'none') return [weighNone('stain', stain)];
  if (asked !== 'slight') return [weighLimit('stain', stain, asked)];
  const none = weighNone('stain', stain);
  if (none.decision === 'meets') return [none];
  const words = `stain ${percentWords(stain.value)} is seen and the standard gives no share for "slight stains"; compare by eye`;
  return [{ decision: 'cannot tell', words }];
}
