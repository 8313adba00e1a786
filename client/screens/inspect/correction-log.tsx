import type { ReactNode } from 'react';
import type { Correction } from '@domain/api/corrections.ts';
import type { PersonRef } from '@domain/api/people.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import { formatMoment } from '../../units/format-moment.ts';

const nameOf = (person: PersonRef | null): string => person?.name ?? words.inspect.somebody;

/** Who corrected what and when, the newest first; what was taken back stays in sight. */
export function CorrectionLog({ corrections }: { corrections: readonly Correction[] }): ReactNode {
  return (
    <section className="stack stack-tight">
      <h2>{words.inspect.kept}</h2>
      {corrections.length === 0 ? (
        <p className="muted">{words.inspect.keptNone}</p>
      ) : (
        <ul className="rows">
          {corrections.toReversed().map((correction) => (
            <CorrectionRow key={correction.id} correction={correction} />
          ))}
        </ul>
      )}
    </section>
  );
}

function CorrectionRow({ correction }: { correction: Correction }): ReactNode {
  const withdraw = useChange('withdrawCorrection');
  const mayWithdraw = useMayCall('withdrawCorrection');
  const { id, assessmentId, marks, map, madeAt, madeBy, mayTrain, reason, withdrawnAt, withdrawnBy } = correction;
  return (
    <li className="row-link">
      <span className={withdrawnAt === null ? undefined : 'muted'}>
        {words.inspect.by(nameOf(madeBy), formatMoment(madeAt))}
        <br />
        <span className="small muted">
          {[
            words.inspect.maps[map],
            words.inspect.keptMarks(marks.length),
            reason,
            mayTrain ? words.inspect.trains : '',
          ]
            .filter((part) => part !== '')
            .join(' · ')}
        </span>
        {withdrawnAt === null ? null : (
          <>
            <br />
            <span className="small">{words.inspect.withdrawn(nameOf(withdrawnBy), formatMoment(withdrawnAt))}</span>
          </>
        )}
        {withdraw.error === null ? null : <Notice kind="fault">{withdraw.error.message}</Notice>}
      </span>
      {withdrawnAt === null && mayWithdraw ? (
        <Button
          isBusy={withdraw.isPending}
          onClick={() => {
            withdraw.mutate({ params: { assessmentId, correctionId: id } });
          }}
        >
          {words.inspect.withdraw}
        </Button>
      ) : (
        <span />
      )}
    </li>
  );
}
