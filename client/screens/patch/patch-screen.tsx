import { useState } from 'react';
import type { ReactNode } from 'react';
import { useLocation, useParams } from 'react-router';
import type { ShopMachine } from '@domain/api/machines.ts';
import type { ZoneAdvice } from '@domain/api/test-patches.ts';
import type { JobZone } from '@domain/api/zones.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/answer.css';
import { useUnits } from '../../units/use-units.ts';
import { SettingFigures } from '../answer/setting-figures.tsx';
import { suggestedSettings } from '../check/first-settings.ts';
import { SettingsDials } from '../check/settings-dials.tsx';
import { WorkCautions } from '../check/work-cautions.tsx';
import { PatchOutcome } from './patch-outcome.tsx';
import type { PatchState } from './patch-state.ts';

/** A test patch from its setting to what it left. */
export function PatchScreen(): ReactNode {
  const { zoneId = '' } = useParams();
  const zone = useAnswer('readZone', { params: { zoneId } });
  const now = useAnswer('readZoneAdvice', { params: { zoneId } });
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  if (zone.data === undefined) return <NotHereYet reading={zone} />;
  if (now.data === undefined) return <NotHereYet reading={now} />;
  if (machines.data === undefined) return <NotHereYet reading={machines} />;
  const machine = machines.data.items.find(({ id }) => id === now.data.machineId);
  return (
    <Page title={words.patch.title} above={{ to: `/zones/${zoneId}`, word: zone.data.name }} lead={words.patch.lead}>
      {machine === undefined ? (
        <Notice kind="caution">{words.patch.noMachine}</Notice>
      ) : (
        <PatchForm zone={zone.data} now={now.data} machine={machine} />
      )}
    </Page>
  );
}

function PatchForm({ zone, now, machine }: { zone: JobZone; now: ZoneAdvice; machine: ShopMachine }): ReactNode {
  const units = useUnits();
  const given = useLocation().state as PatchState | null;
  const patch = given?.patch ?? (given?.settings === undefined ? now.advice?.testPatch : undefined);
  const [settings, setSettings] = useState(
    () =>
      patch?.settings ?? suggestedSettings(given?.settings ?? now.advice?.suggestions.at(0)?.settings ?? null, machine),
  );
  return (
    <>
      <section className="stack">
        <h2>{words.patch.settings}</h2>
        <div className="plate stack">
          <SettingFigures settings={settings} last={null} />
          {patch === undefined ? null : (
            <p className="muted">
              {words.patch.size(units.length(settings.scanWidthMm), units.length(patch.lengthMm))}
            </p>
          )}
        </div>
        <div>
          <Fold title={words.patch.otherSettings}>
            <SettingsDials
              settings={settings}
              machine={machine}
              last={patch?.settings ?? null}
              onChange={setSettings}
            />
          </Fold>
          <WorkCautions />
        </div>
      </section>
      <section className="stack">
        <h2>{words.patch.spotTitle}</h2>
        <ol className="points">
          {words.patch.spotPoints.map((point) => (
            <li key={point}>{point}</li>
          ))}
        </ol>
      </section>
      <PatchOutcome zone={zone} machineId={machine.id} settings={settings} />
    </>
  );
}
