import { failure, gaugeStudySchema, success } from '../../domain/index.ts';
import type { GaugeResult, GaugeStudy, Outcome, Spread } from '../../domain/index.ts';
import { layOutStudy } from './balanced-layout.ts';
import type { BalancedLayout } from './balanced-layout.ts';
import { varianceTable } from './variance-table.ts';
import type { VarianceTable } from './variance-table.ts';

/** Width of a study in standard deviations. Source: [MSA4] (6 standard deviations, 99.73 % of a normal distribution). */
const STUDY_WIDTH = 6;
/** Source: [MSA4]: under 10 % good, to 30 % may be usable, above not; at least five distinct categories. */
const GOOD_PART = 0.1;
const USABLE_PART = 0.3;
const LEAST_CATEGORIES = 5;
/** Source: [MSA4]: number of distinct categories, cut to a whole number. */
const CATEGORY_FACTOR = 1.41;

/**
 * How much of the spread of a measurement comes from the measuring: repeats of one operator, differences between operators,
 * and what is left for the zones. Source: [MSA4], ANOVA method.
 */
export function studyGauge(json: unknown): Outcome<GaugeResult> {
  const parsed = gaugeStudySchema.safeParse(json);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return failure({
      code: 'gauge-study-malformed',
      path: issue.path.join('.'),
      detail: `is refused: ${issue.message}`,
    });
  }
  const layout = layOutStudy(parsed.data);
  return layout.ok ? success(judge(parsed.data, layout.value)) : layout;
}

function judge(study: GaugeStudy, layout: BalancedLayout): GaugeResult {
  const table = varianceTable(layout);
  const spread = spreads(table, layout, study.toleranceWidth);
  const { gauge, zones } = spread;
  const isStill = gauge.standardDeviation === 0;
  const ratio = isStill ? null : zones.standardDeviation / gauge.standardDeviation;
  const distinctCategories = ratio === null ? null : Math.floor(CATEGORY_FACTOR * ratio);
  return {
    schema: 'bareplate/gauge-result@1',
    quantity: study.quantity,
    operators: layout.operators.length,
    zones: layout.zones.length,
    repeats: layout.repeats,
    variance: table.rows,
    isInteractionPooled: table.isInteractionPooled,
    spread,
    distinctCategories,
    verdict: isStill || distinctCategories === null ? null : verdictOf(gauge.partOfTotal, distinctCategories),
    remarks: remarksOn(layout, isStill),
  };
}

function verdictOf(part: number, categories: number): GaugeResult['verdict'] {
  if (part > USABLE_PART) return 'not good enough';
  return part < GOOD_PART && categories >= LEAST_CATEGORIES ? 'good' : 'usable for some purposes';
}

function spreads(
  { rows, isInteractionPooled, pooled }: VarianceTable,
  { operators, zones, repeats }: BalancedLayout,
  toleranceWidth: number | null,
): GaugeResult['spread'] {
  // A negative estimate of a variance means that the source cannot be told from none.
  const component = (meanSquare: number, count: number): number =>
    Math.max(0, (meanSquare - pooled.meanSquare) / count);
  const repeatability = isInteractionPooled ? pooled.meanSquare : rows.repeatability.meanSquare;
  const interaction = isInteractionPooled ? 0 : Math.max(0, (pooled.meanSquare - repeatability) / repeats);
  const byOperator = component(rows.operators.meanSquare, zones.length * repeats);
  const byZone = component(rows.zones.meanSquare, operators.length * repeats);
  const reproducibility = byOperator + interaction;
  const gauge = repeatability + reproducibility;
  const total = gauge + byZone;
  const spread = (variance: number): Spread => {
    const standardDeviation = Math.sqrt(variance);
    return {
      standardDeviation,
      partOfTotal: total === 0 ? 0 : Math.min(1, Math.sqrt(variance / total)),
      partOfTolerance: toleranceWidth === null ? null : (STUDY_WIDTH * standardDeviation) / toleranceWidth,
    };
  };
  return {
    repeatability: spread(repeatability),
    reproducibility: spread(reproducibility),
    operators: spread(byOperator),
    interaction: spread(interaction),
    gauge: spread(gauge),
    zones: spread(byZone),
    total: spread(total),
  };
}

function remarksOn({ operators, zones }: BalancedLayout, isStill: boolean): string[] {
  const remarks = [
    'Parts of the total compare with the spread of the zones in this study: zones that are much alike make any gauge look poor.',
  ];
  if (operators.length < 3) {
    remarks.push('With two operators their difference is hardly known; three or more are usual (common practice).');
  }
  if (zones.length < 5) {
    remarks.push(
      'With fewer than five zones the spread between zones is hardly known; ten are usual (common practice).',
    );
  }
  if (isStill) remarks.push('All repeats agree exactly: the gauge shows no spread, so nothing can be said of it.');
  return remarks;
}
