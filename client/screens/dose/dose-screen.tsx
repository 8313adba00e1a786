import { useState } from 'react';
import type { ReactNode } from 'react';
import type { ShopMachine } from '@domain/api/machines.ts';
import type { Settings } from '@domain/settings.ts';
import { settingsSchema } from '@domain/settings.ts';
import { millimetres, millimetresPerSecond } from '@domain/units.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/planning.css';
import { formatNumber, formatShare } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { suggestedSettings } from '../check/first-settings.ts';
import { MachinePicker } from '../check/machine-picker.tsx';
import { SETTING_KEYS, shownSetting } from '../check/shown-setting.ts';
import { KIND_CHOICES } from '../trials/kind-choices.ts';
import { DoseNumbers, DosePictures } from './dose-view.tsx';
import { KeepLesson } from './keep-lesson.tsx';
import { RealZone } from './real-zone.tsx';
import { Slider } from './slider.tsx';
import { useDosePicture } from './use-dose-picture.ts';

/** Walk that is shown, in spots: enough pitches to see a pattern, few enough to be drawn at once. */
const WALK_SPOTS = 16;
const HAND = { min: 0.5, max: 2, step: 0.05 } as const;
const SPOT = { min: 0.1, max: 6, step: 0.1 } as const;

export function DoseScreen(): ReactNode {
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  const [pickedId, setPickedId] = useState<string | null>(null);
  if (machines.data === undefined) return <NotHereYet reading={machines} />;
  const { items } = machines.data;
  const machine = items.find(({ id }) => id === pickedId) ?? items.at(0);
  return (
    <Page title={words.dose.title} lead={words.dose.lead} isWide>
      {machine === undefined ? (
        <EmptyState title={words.dose.noMachine}>
          <p>{words.dose.noMachineHint}</p>
        </EmptyState>
      ) : (
        <>
          <MachinePicker machines={items} machine={machine} onPick={setPickedId} />
          <Dials key={machine.id} machine={machine} />
        </>
      )}
    </Page>
  );
}

interface Hand {
  readonly kind: string;
  readonly spotMm: number;
  /** Real over set speed. */
  readonly ratio: number;
}

function Dials({ machine }: { machine: ShopMachine }): ReactNode {
  const [settings, setSettings] = useState<Settings>(() => suggestedSettings(null, machine));
  const [movedAtMs, setMovedAtMs] = useState(() => performance.now());
  const [hand, setHand] = useState<Hand>({
    kind: 'light rust',
    spotMm: machine.machine.spotDiameterMm,
    ratio: 1,
  });
  const mayKeep = useMayCall('addLesson');
  const { picture, refusal } = useDosePicture({
    settings,
    machine: { ...machine.machine, spotDiameterMm: millimetres(hand.spotMm) },
    lengthMm: millimetres(WALK_SPOTS * hand.spotMm),
    speedTrace: [{ alongMm: 0, travelSpeedMmPerS: millimetresPerSecond(settings.travelSpeedMmPerS * hand.ratio) }],
    ...(hand.kind === 'unknown' ? {} : { surface: hand.kind }),
  });
  const moveSettings = (next: Settings): void => {
    setMovedAtMs(performance.now());
    setSettings(next);
  };
  const moveHand = (next: Hand): void => {
    setMovedAtMs(performance.now());
    setHand(next);
  };
  return (
    <>
      {picture === null ? null : <DosePictures picture={picture} movedAtMs={movedAtMs} />}
      {refusal === null ? null : <Notice kind="fault">{refusal}</Notice>}
      <div className="sliders">
        <SettingSliders machine={machine} settings={settings} onMove={moveSettings} />
        <HandSliders hand={hand} onMove={moveHand} />
      </div>
      {picture === null ? null : <DoseNumbers picture={picture} settings={settings} />}
      <RealZone onTakeOver={moveSettings} />
      {mayKeep ? <KeepLesson settings={settings} machineId={machine.id} /> : null}
    </>
  );
}

function SettingSliders({
  machine: { machine, dialSteps },
  settings,
  onMove,
}: {
  machine: ShopMachine;
  settings: Settings;
  onMove: (settings: Settings) => void;
}): ReactNode {
  const units = useUnits();
  return (
    <>
      {SETTING_KEYS.map((key) => {
        const dial =
          key === 'passes' ? { min: 1, max: machine.maxPasses, step: 1 } : { ...machine[key], step: dialSteps[key] };
        return (
          <Slider
            key={key}
            label={words.settings[key]}
            shown={shownSetting(key, settings[key], units).text}
            value={settings[key]}
            {...dial}
            onMove={(value) => {
              onMove(settingsSchema.parse({ ...settings, [key]: value }));
            }}
          />
        );
      })}
    </>
  );
}

function HandSliders({ hand, onMove }: { hand: Hand; onMove: (hand: Hand) => void }): ReactNode {
  const units = useUnits();
  return (
    <>
      <Slider
        label={words.dose.spot}
        shown={`${formatNumber(units.lengthOf(hand.spotMm), units.system === 'inches' ? 3 : 1)} ${units.lengthUnit}`}
        value={hand.spotMm}
        {...SPOT}
        onMove={(spotMm) => {
          onMove({ ...hand, spotMm });
        }}
      />
      <Slider
        label={words.dose.hand}
        shown={formatShare(hand.ratio)}
        value={hand.ratio}
        {...HAND}
        onMove={(ratio) => {
          onMove({ ...hand, ratio });
        }}
      />
      <SelectField
        label={words.dose.kind}
        value={hand.kind}
        choices={KIND_CHOICES}
        onChange={(event) => {
          onMove({ ...hand, kind: event.target.value });
        }}
      />
    </>
  );
}
