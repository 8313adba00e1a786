import { useState } from 'react';
import type { ReactNode } from 'react';
import type { RequestOf } from '@domain/api/endpoints.ts';
import type { JobZone } from '@domain/api/zones.ts';
import type { Settings } from '@domain/settings.ts';
import { newId } from '../../api/new-id.ts';
import { useEnterPatch } from './use-enter-patch.ts';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';
import { NoticedPicks } from '../photos/noticed-picks.tsx';
import { OutcomeByEye } from './outcome-by-eye.tsx';
import { OutcomeByPhoto } from './outcome-by-photo.tsx';

type Entered = RequestOf<'addTestPatch'>['body'];

const HOWS = ['photo', 'by eye'] as const;

/** What the patch left: measured in a photo, or judged by eye where there is neither card nor light. */
export function PatchOutcome(props: { zone: JobZone; machineId: string; settings: Settings }): ReactNode {
  const { zone, machineId, settings } = props;
  const [id] = useState(newId);
  const [how, setHow] = useState<(typeof HOWS)[number]>('photo');
  const [noticed, setNoticed] = useState<Required<Pick<Entered, 'scrapeTest' | 'heatTint'>>>({
    scrapeTest: null,
    heatTint: null,
  });
  const add = useEnterPatch(zone);
  const enter = (outcome: Entered['outcome']): void => {
    add.mutate({ params: { zoneId: zone.id }, body: { id, settings, machineId, ...noticed, outcome } });
  };
  return (
    <section className="stack">
      <h2>{words.patch.outcomeTitle}</h2>
      <PickOne
        label={words.patch.how}
        options={HOWS.map((value) => ({ value, word: words.patch.hows[value] }))}
        value={how}
        onPick={setHow}
      />
      <div>
        <Fold title={words.patch.noticed}>
          <div className="stack stack-wide">
            <NoticedPicks
              scrapeTest={noticed.scrapeTest ?? null}
              heatTint={noticed.heatTint ?? null}
              onPick={(picked) => {
                setNoticed({ ...noticed, ...picked });
              }}
            />
          </div>
        </Fold>
      </div>
      {how === 'photo' ? (
        <OutcomeByPhoto
          title={`${words.patch.title}, ${zone.name}`}
          settings={settings}
          isBusy={add.isPending}
          onMeasured={(comparisonId) => {
            enter({ how, comparisonId });
          }}
        />
      ) : (
        <OutcomeByEye
          isBusy={add.isPending}
          onJudged={(residueFraction) => {
            enter({ how, residueFraction });
          }}
        />
      )}
      {add.error === null ? null : <Notice kind="fault">{add.error.message}</Notice>}
    </section>
  );
}
