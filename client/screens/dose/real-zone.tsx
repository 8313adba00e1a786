import { useState } from 'react';
import type { ReactNode } from 'react';
import type { Settings } from '@domain/settings.ts';
import { urlOf } from '../../api/call.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { SelectField } from '../../components/field.tsx';
import { words } from '../../i18n/words.ts';
import { useUnits } from '../../units/use-units.ts';

/** An assessed zone beside the picture: its real stripes, and the speed that they give away. */
export function RealZone({ onTakeOver }: { onTakeOver: (settings: Settings) => void }): ReactNode {
  const [id, setId] = useState('');
  const done = useAnswer('listAssessments', { query: { state: 'done', limit: 50 } });
  const items = done.data?.items ?? [];
  if (items.length === 0) return null;
  return (
    <section className="stack">
      <h2>{words.dose.real}</h2>
      <SelectField
        label={words.dose.realLead}
        value={id}
        choices={[
          { value: '', word: words.dose.realNone },
          ...items.map((one) => ({
            value: one.id,
            word: `${words.answer.title(one.zoneName, one.roundNumber)}, ${one.jobName}`,
          })),
        ]}
        onChange={(event) => {
          setId(event.target.value);
        }}
      />
      {id === '' ? null : <Shown assessmentId={id} onTakeOver={onTakeOver} />}
    </section>
  );
}

function Shown({
  assessmentId,
  onTakeOver,
}: {
  assessmentId: string;
  onTakeOver: (settings: Settings) => void;
}): ReactNode {
  const units = useUnits();
  const assessment = useAnswer('readAssessment', { params: { assessmentId } });
  if (assessment.data === undefined) return null;
  const { basis, result } = assessment.data;
  const speed = result?.streaks.travelSpeedMmPerS ?? null;
  const { settings } = basis;
  return (
    <>
      <img className="real-picture" src={urlOf('readOverlay', { params: { assessmentId } })} alt={words.dose.realAlt} />
      <p>
        {speed === null || settings === null
          ? words.dose.realNoSpeed
          : words.dose.realSpeed(units.speed(speed.value), units.speed(settings.travelSpeedMmPerS))}
      </p>
      {settings === null ? null : (
        <div>
          <Button
            onClick={() => {
              onTakeOver(settings);
            }}
          >
            {words.dose.takeOver}
          </Button>
        </div>
      )}
    </>
  );
}
