import { useState } from 'react';
import type { ReactNode } from 'react';
import { Navigate, useLocation, useNavigate, useParams } from 'react-router';
import type { ShopMachine } from '@domain/api/machines.ts';
import type { ZoneRound } from '@domain/api/rounds.ts';
import type { JobZone } from '@domain/api/zones.ts';
import type { Settings } from '@domain/settings.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { AdvisedSettings } from './advised-settings.tsx';
import { FirstAdvice } from './first-advice.tsx';
import { suggestedSettings } from './first-settings.ts';
import { MachinePicker } from './machine-picker.tsx';
import { RoundSteps } from './round-steps.tsx';
import { SettingsDials } from './settings-dials.tsx';
import { useStartRound } from './start-round.ts';
import { WorkCautions } from './work-cautions.tsx';

/** Settings that the advice proposed travel here with the link. */
export interface SettingsState {
  readonly settings?: Settings;
}

export function SettingsScreen(): ReactNode {
  const { zoneId = '' } = useParams();
  const zone = useAnswer('readZone', { params: { zoneId } });
  const rounds = useAnswer('listRounds', { params: { zoneId }, query: { sort: '-number', limit: 1 } });
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  if (zone.data === undefined) return <NotHereYet reading={zone} />;
  if (rounds.data === undefined || !rounds.isFetchedAfterMount) return <NotHereYet reading={rounds} />;
  if (machines.data === undefined) return <NotHereYet reading={machines} />;
  const last = rounds.data.items.at(0) ?? null;
  if (last?.latest === null) return <Navigate to={`/rounds/${last.id}/photos`} replace />;
  return <SettingsForm zone={zone.data} last={last} machines={machines.data.items} />;
}

interface FormProps {
  readonly zone: JobZone;
  readonly last: ZoneRound | null;
  readonly machines: readonly ShopMachine[];
}

function SettingsForm({ zone, last, machines }: FormProps): ReactNode {
  const number = (last?.number ?? 0) + 1;
  const above = { to: `/zones/${zone.id}`, word: zone.name };
  const shop = useAnswer('readShop', {});
  const [pickedId, setPickedId] = useState<string | null>(null);
  const usualId = last?.machineId ?? zone.machineId ?? shop.data?.usualMachineId;
  const machine = machines.find(({ id }) => id === (pickedId ?? usualId)) ?? machines.at(0);
  return (
    <Page
      title={words.round.settingsTitle(number)}
      above={above}
      lead={last === null ? words.round.settingsFirstLead : words.round.settingsLead}
    >
      <RoundSteps at={0} />
      {machine === undefined ? (
        <EmptyState title={words.round.noMachine}>
          <p>{words.round.noMachineHint}</p>
        </EmptyState>
      ) : (
        <>
          <MachinePicker machines={machines} machine={machine} onPick={setPickedId} />
          <DialsAndGo key={machine.id} zone={zone} last={last} machine={machine} />
        </>
      )}
    </Page>
  );
}

function DialsAndGo({
  zone,
  last,
  machine,
}: {
  zone: JobZone;
  last: ZoneRound | null;
  machine: ShopMachine;
}): ReactNode {
  const proposed = (useLocation().state as SettingsState | null)?.settings;
  const [settings, setSettings] = useState(() => proposed ?? suggestedSettings(last?.settings ?? null, machine));
  const start = useStartRound(zone, last);
  const navigate = useNavigate();
  return (
    <>
      <div>
        <WorkCautions />
      </div>
      {proposed !== undefined ? null : (
        <Advised zone={zone} last={last} machine={machine} settings={settings} onTakeOver={setSettings} />
      )}
      <SettingsDials settings={settings} machine={machine} last={last?.settings ?? null} onChange={setSettings} />
      {start.error === null ? null : <Notice kind="fault">{start.error.message}</Notice>}
      <div className="actions actions-low">
        <Button
          look="primary"
          isWide
          isBusy={start.isPending}
          onClick={() => {
            start.mutate(
              { settings, machineId: machine.id },
              { onSuccess: (round) => void navigate(`/rounds/${round.id}/photos`, { replace: true }) },
            );
          }}
        >
          {words.round.goOn}
        </Button>
      </div>
    </>
  );
}

/** What to set, by what is known: an answer of this machine, or before the first round what is known of such surfaces. */
function Advised({
  zone,
  last,
  machine,
  ...dials
}: {
  zone: JobZone;
  last: ZoneRound | null;
  machine: ShopMachine;
  settings: Settings;
  onTakeOver: (settings: Settings) => void;
}): ReactNode {
  if (last === null) return <FirstAdvice zone={zone} machine={machine} {...dials} />;
  return last.machineId === machine.id ? <AdvisedSettings last={last} {...dials} /> : null;
}
