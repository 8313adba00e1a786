import type { ReactNode } from 'react';
import { SURFACE_CLASSES } from '@domain/surface.ts';
import type { Surface, SurfaceClass } from '@domain/surface.ts';
import type { CorrectedSurface } from '@domain/api/corrections.ts';
import { ClassKey } from '../../components/class-key.tsx';
import { Notice } from '../../components/notice.tsx';
import { ShareStrip } from '../../components/share-strip.tsx';
import { words } from '../../i18n/words.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import type { AnswerProps } from './answer-props.ts';

/** Below this share a photo's doubtful part need not trouble an operator. */
const UNMEASURED_WORTH_SAYING = 0.01;

/** Residue first, worst class first; bare steel last. */
const ORDER: readonly SurfaceClass[] = ['rust', 'scale', 'coating', 'stain', 'bare'];

export function WhatIsLeft({ assessment, result }: AnswerProps): ReactNode {
  const { after, removed } = result;
  const corrected = assessment.corrected.after;
  return (
    <section className="stack">
      <ShareStrip shares={sharesOf(after, corrected)} residue={corrected === null ? after.residue : null} />
      <ClassTable surface={after} corrected={corrected} />
      {removed === null ? null : (
        <p>{words.answer.removed(formatShare(removed.value), formatShareInterval(removed))}</p>
      )}
      {after.unmeasuredFraction < UNMEASURED_WORTH_SAYING ? null : (
        <Notice kind="caution">{words.answer.unmeasured(formatShare(after.unmeasuredFraction))}</Notice>
      )}
      {corrected === null ? null : <Notice kind="note">{words.answer.corrected}</Notice>}
    </section>
  );
}

function sharesOf(surface: Surface, corrected: CorrectedSurface | null): Record<SurfaceClass, number> {
  const shares = SURFACE_CLASSES.map((each) => [each, corrected?.fractions[each] ?? surface.fractions[each].value]);
  return Object.fromEntries(shares) as Record<SurfaceClass, number>;
}

function ClassTable({ surface, corrected }: { surface: Surface; corrected: CorrectedSurface | null }): ReactNode {
  const shares = sharesOf(surface, corrected);
  return (
    <table className="class-table">
      <caption className="unseen">{words.answer.gaugeAlt}</caption>
      <thead className="unseen">
        <tr>
          <th scope="col">{words.answer.className}</th>
          <th scope="col">{words.answer.share}</th>
          <th scope="col">{words.answer.interval}</th>
        </tr>
      </thead>
      <tbody>
        {ORDER.map((each) => (
          <tr key={each}>
            <th scope="row">
              <span className="row">
                <ClassKey marked={each} />
                {words.classes[each]}
              </span>
            </th>
            <td className="number">{formatShare(shares[each])}</td>
            <td className="number muted">{corrected === null ? formatShareInterval(surface.fractions[each]) : ''}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
