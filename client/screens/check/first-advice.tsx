import type { ReactNode } from 'react';
import type { JobZone } from '@domain/api/zones.ts';
import type { ShopMachine } from '@domain/api/machines.ts';
import type { Settings } from '@domain/settings.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Fold } from '../../components/fold.tsx';
import { words } from '../../i18n/words.ts';
import { WhyThis } from '../answer/why-this.tsx';
import { ProposedPatch } from '../patch/proposed-patch.tsx';
import { TriedPatches } from '../patch/tried-patches.tsx';
import { TakeAdvised } from './take-advised.tsx';

/** Before the first round of a zone: what is known of such surfaces, and what test patches on this one showed. */
export function FirstAdvice(props: {
  zone: JobZone;
  machine: ShopMachine;
  settings: Settings;
  onTakeOver: (settings: Settings) => void;
}): ReactNode {
  const { zone, machine, settings, onTakeOver } = props;
  const params = { zoneId: zone.id };
  const now = useAnswer('readZoneAdvice', { params });
  const tried = useAnswer('listTestPatches', { params });
  const best = now.data?.advice?.suggestions.at(0);
  const patch = now.data?.advice?.testPatch;
  if (typeof now.data?.whyNone === 'string') return <p className="muted">{now.data.whyNone}</p>;
  if (now.data === undefined || best === undefined || now.data.machineId !== machine.id) return null;
  return (
    <>
      {patch === undefined ? null : <ProposedPatch zoneId={zone.id} patch={patch} look="quiet" heading="h2" />}
      <TakeAdvised word={words.patch.first} advised={best.settings} settings={settings} onTakeOver={onTakeOver}>
        <p className="muted small">{words.patch.firstNote}</p>
        <div>
          <Fold title={words.answer.why}>
            <WhyThis suggestion={best} />
          </Fold>
        </div>
      </TakeAdvised>
      <TriedPatches patches={tried.data?.items ?? []} heading="h2" />
    </>
  );
}
