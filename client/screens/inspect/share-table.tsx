import type { ReactNode } from 'react';
import type { CorrectedSurface } from '@domain/api/corrections.ts';
import type { Grade } from '@domain/grade.ts';
import type { Measured } from '@domain/measured.ts';
import type { Surface, SurfaceClass } from '@domain/surface.ts';
import { ClassKey } from '../../components/class-key.tsx';
import { words } from '../../i18n/words.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';

const ORDER: readonly SurfaceClass[] = ['rust', 'scale', 'coating', 'stain', 'bare'];

interface ShareProps {
  readonly surface: Surface;
  readonly now: CorrectedSurface | null;
  readonly isCounting: boolean;
  /** The grade aimed at, as decided on what was measured; null without a target or for a photo that is not graded. */
  readonly against: Grade | null;
}

/** What was measured beside what it is after the corrections. */
export function ShareTable(props: ShareProps): ReactNode {
  const { surface, now } = props;
  return (
    <section className="stack stack-tight">
      <h2>{words.inspect.shares}</h2>
      <table className="class-table">
        <thead>
          <tr>
            <th scope="col">{words.answer.className}</th>
            <th scope="col" className="number">
              {words.inspect.measured}
            </th>
            <th scope="col" className="number">
              {words.inspect.now}
            </th>
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
              <td className="number">{formatShare(surface.fractions[each].value)}</td>
              <td className="number">{now === null ? '' : formatShare(now.fractions[each])}</td>
            </tr>
          ))}
          <ResidueRow residue={surface.residue} now={now} />
          {surface.worstUnitArea === null ? null : (
            <tr>
              <th scope="row">{words.inspect.worstSquare}</th>
              <td className="number">{formatShare(surface.worstUnitArea.residueFraction)}</td>
              <td className="number">{shareOrNothing(now?.decided?.worstUnitArea?.residueFraction)}</td>
            </tr>
          )}
        </tbody>
      </table>
      <p className="muted small" role="status">
        {statusOf(props)}
      </p>
    </section>
  );
}

function statusOf({ now, isCounting, against }: ShareProps): string {
  if (isCounting) return words.inspect.counting;
  if (now === null) return '';
  const changed = words.inspect.changedShare(formatShare(now.changedFraction));
  const anew = now.decided?.grades.find((line) => line.standard === against?.standard && line.grade === against.grade);
  if (anew === undefined || against === null) return changed;
  return `${changed} ${words.inspect.nowAgainst(anew.grade, against.decision, anew.decision)}`;
}

const shareOrNothing = (share: number | undefined): string => (share === undefined ? '' : formatShare(share));

function ResidueRow({ residue, now }: { residue: Measured; now: CorrectedSurface | null }): ReactNode {
  return (
    <tr>
      <th scope="row">
        <strong>{words.inspect.residue}</strong>
      </th>
      <td className="number">
        <strong>{formatShare(residue.value)}</strong>
        <br />
        <span className="muted small">{formatShareInterval(residue)}</span>
      </td>
      <td className="number">
        <strong>{now === null ? '' : formatShare(now.residue)}</strong>
        {now === null || now.decided === null ? null : (
          <>
            <br />
            <span className="muted small">{formatShareInterval(now.decided.residue)}</span>
          </>
        )}
      </td>
    </tr>
  );
}
