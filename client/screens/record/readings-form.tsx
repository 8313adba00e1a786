import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import type { ZoneRecord } from '@domain/api/records.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { SelectField, TextArea, TextField } from '../../components/field.tsx';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { InstrumentRows } from './instrument-rows.tsx';
import { readReadings } from './reading-form.ts';
import { DewPointLine, SaltsLine } from './reading-lines.tsx';

const RATINGS = ['', '0', '1', '2', '3', '4', '5'].map((value) => ({
  value,
  word: value === '' ? words.reading.notRead : value,
}));
const choices = (...values: readonly string[]): { value: string; word: string }[] =>
  values.map((value) => ({ value, word: value === '' ? words.reading.notRead : value }));

/** What a photo cannot know, in one form; a group that is left empty was not read. */
export function ReadingsForm({
  record,
  onUnkept,
}: {
  record: ZoneRecord;
  /** Told when something is typed, and again when it is kept. */
  onUnkept: (isUnkept: boolean) => void;
}): ReactNode {
  const enter = useChange('enterReadings');
  const [wrong, setWrong] = useState<string | null>(null);
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const typed = readReadings(new FormData(event.currentTarget));
    setWrong('wrong' in typed ? words.reading.wrong(words.reading[typed.wrong]) : null);
    if ('wrong' in typed) return;
    enter.mutate(
      { params: { recordId: record.id }, body: typed.body },
      {
        onSuccess: () => {
          onUnkept(false);
        },
      },
    );
  };
  const { readings } = record;
  return (
    <form
      className="stack"
      onSubmit={submit}
      onChange={() => {
        onUnkept(true);
      }}
    >
      <div>
        <ClimateFold record={record} />
        <ProfileFold record={record} />
        <DustAndSaltsFold record={record} />
        <WorkFold record={record} />
        <Fold title={words.reading.instruments} isOpen={readings.instruments.length > 0}>
          <InstrumentRows instruments={readings.instruments.map(({ value }) => value)} />
        </Fold>
      </div>
      <TextArea
        label={words.reading.remarks}
        hint={words.reading.remarksHint}
        name="remarks"
        maxLength={4000}
        defaultValue={readings.remarks.map(({ value }) => value.text).join('\n')}
      />
      {wrong === null ? null : <Notice kind="fault">{wrong}</Notice>}
      {enter.error === null ? null : <Notice kind="fault">{enter.error.message}</Notice>}
      <div role="status">{enter.isSuccess ? <Notice kind="note">{words.record.kept}</Notice> : null}</div>
      <div>
        <Button type="submit" isBusy={enter.isPending}>
          {words.record.keepReadings}
        </Button>
      </div>
    </form>
  );
}

function NumberField({
  label,
  name,
  unit,
  value,
}: {
  label: string;
  name: string;
  unit: string;
  value: number | undefined;
}): ReactNode {
  return (
    <TextField
      label={label}
      name={name}
      suffix={unit}
      inputMode="decimal"
      autoComplete="off"
      defaultValue={value ?? ''}
    />
  );
}

function ClimateFold({ record }: { record: ZoneRecord }): ReactNode {
  const climate = record.readings.climate?.value;
  const percent = climate === undefined ? undefined : Math.round(climate.relativeHumidity * 1000) / 10;
  return (
    <Fold title={words.reading.climate} isOpen>
      <div className="grid-two">
        <NumberField
          label={words.reading.airTemperatureC}
          name="airTemperatureC"
          unit="°C"
          value={climate?.airTemperatureC}
        />
        <NumberField
          label={words.reading.surfaceTemperatureC}
          name="surfaceTemperatureC"
          unit="°C"
          value={climate?.surfaceTemperatureC}
        />
        <NumberField label={words.reading.relativeHumidity} name="relativeHumidityPercent" unit="%" value={percent} />
      </div>
      <DewPointLine computed={record.computed} />
    </Fold>
  );
}

function ProfileFold({ record }: { record: ZoneRecord }): ReactNode {
  const profile = record.readings.surfaceProfile?.value;
  const first = profile === undefined ? '' : profile.method === 'comparator' ? profile.comparator : profile.method;
  const [method, setMethod] = useState<string>(first);
  const methods = Object.entries(words.reading.profileMethods).map(([value, word]) => ({ value, word }));
  const isByEye = method === 'grit' || method === 'shot';
  return (
    <Fold title={words.reading.surfaceProfile} isOpen={profile !== undefined}>
      <div className="grid-two">
        <SelectField
          label={words.reading.profileMethod}
          name="profileMethod"
          choices={methods}
          value={method}
          onChange={(event) => {
            setMethod(event.target.value);
          }}
        />
        {isByEye ? (
          <SelectField
            label={words.reading.profileWord}
            name="profileWord"
            choices={choices('finer than fine', 'fine', 'medium', 'coarse', 'coarser than coarse')}
            defaultValue={profile?.method === 'comparator' ? profile.word : 'medium'}
          />
        ) : null}
        {method !== '' && !isByEye ? (
          <TextField
            label={words.reading.profileReadings}
            hint={words.reading.profileReadingsHint}
            name="profileReadings"
            suffix="µm"
            autoComplete="off"
            defaultValue={profile === undefined || profile.method === 'comparator' ? '' : profile.readingsUm.join(' ')}
          />
        ) : null}
      </div>
    </Fold>
  );
}

function DustAndSaltsFold({ record }: { record: ZoneRecord }): ReactNode {
  const dust = record.readings.dust?.value;
  const salts = record.readings.solubleSalts?.value;
  return (
    <>
      <Fold title={words.reading.dust} isOpen={dust !== undefined}>
        <div className="grid-two">
          <SelectField
            label={words.reading.dustQuantity}
            name="dustQuantity"
            choices={RATINGS}
            defaultValue={dust?.quantityRating ?? ''}
          />
          <SelectField
            label={words.reading.dustSize}
            name="dustSize"
            choices={RATINGS}
            defaultValue={dust?.sizeClass ?? ''}
          />
        </div>
      </Fold>
      <Fold title={words.reading.solubleSalts} isOpen={salts !== undefined}>
        <div className="grid-two">
          <NumberField
            label={words.reading.conductivityRise}
            name="saltsRise"
            unit="µS/cm"
            value={salts?.conductivityRiseUsPerCm}
          />
          <NumberField
            label={words.reading.waterVolume}
            name="saltsWater"
            unit="ml"
            value={salts?.waterVolumeMl ?? USUAL_SALTS.waterVolumeMl}
          />
          <NumberField
            label={words.reading.patchArea}
            name="saltsPatch"
            unit="mm²"
            value={salts?.patchAreaMm2 ?? USUAL_SALTS.patchAreaMm2}
          />
        </div>
        <SaltsLine computed={record.computed} />
      </Fold>
    </>
  );
}

/** Usual patch and its water. Source: [ISO8502-6], from memory. */
const USUAL_SALTS = { waterVolumeMl: 15, patchAreaMm2: 1250 } as const;

function WorkFold({ record }: { record: ZoneRecord }): ReactNode {
  const scrape = record.readings.scrapeTest?.value;
  const since = record.readings.timeSinceCleaning?.value;
  return (
    <>
      <Fold title={words.reading.scrapeTest} isOpen={scrape !== undefined}>
        <div className="grid-two">
          <SelectField
            label={words.reading.scrapeResult}
            name="scrapeResult"
            choices={choices('', 'clean', 'material came off')}
            defaultValue={scrape?.result ?? ''}
          />
          <TextField
            label={words.reading.scrapeWhere}
            name="scrapeWhere"
            maxLength={200}
            autoComplete="off"
            defaultValue={scrape?.where ?? ''}
          />
        </div>
      </Fold>
      <Fold title={words.reading.timeSinceCleaning} isOpen={since !== undefined}>
        <div className="grid-two">
          <NumberField label={words.reading.minutes} name="cleanedMinutes" unit="min" value={since?.minutes} />
          <SelectField
            label={words.reading.flashRust}
            name="flashRust"
            choices={choices('', 'none', 'light', 'moderate', 'heavy')}
            defaultValue={since?.flashRust ?? ''}
          />
        </div>
      </Fold>
    </>
  );
}
