import type { ReactNode } from 'react';
import type { CorrectedSurface } from '@domain/api/corrections.ts';
import type { Measured } from '@domain/measured.ts';
import type { Surface, SurfaceClass } from '@domain/surface.ts';
import { ClassKey } from '../../components/class-key.tsx';
import { words } from '../../i18n/words.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';

const ORDER: readonly SurfaceClass[] = ['rust', 'scale', 'coating', 'stain', 'bare'];

/** What was measured beside what it is after the corrections. */
export function ShareTable({
  surface,
  now,
  isCounting,
}: {
  surface: Surface;
  now: CorrectedSurface | null;
  isCounting: boolean;
}): ReactNode {
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
        </tbody>
      </table>
      <p className="muted small" role="status">
        {isCounting
          ? words.inspect.counting
          : now === null
            ? ''
            : words.inspect.changedShare(formatShare(now.changedFraction))}
      </p>
    </section>
  );
}

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
      </td>
    </tr>
  );
}
