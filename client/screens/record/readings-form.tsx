import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { dewPointMargin } from '@domain/dew-point-margin.ts';
import { saltDensityMgPerM2 } from '@domain/salt-density.ts';
import type { ZoneRecord } from '@domain/api/records.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { SelectField, TextArea, TextField } from '../../components/field.tsx';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';
import { useUnits } from '../../units/use-units.ts';
import { InstrumentRows } from './instrument-rows.tsx';
import { climateNow, readReadings, saltsNow } from './reading-form.ts';
import type { FieldText } from './reading-form.ts';
import { DewPointLine, SaltsLine } from './reading-lines.tsx';
import { useReadingTexts } from './reading-texts.ts';
import type { LiveField as LiveFieldName, ReadingTexts } from './reading-texts.ts';
import { quantityUnit } from './shown-quantities.ts';

const SYSTEMS = ['millimetres', 'inches'] as const;
const isUnitKey = (target: EventTarget): boolean => target instanceof HTMLInputElement && target.type === 'radio';

const RATINGS = ['', '0', '1', '2', '3', '4', '5'].map((value) => ({
  value,
  word: value === '' ? words.reading.notRead : value,
}));
const choices = (...values: readonly string[]): { value: string; word: string }[] =>
  values.map((value) => ({ value, word: value === '' ? words.reading.notRead : value }));

interface FormProps {
  readonly record: ZoneRecord;
  /** Told when something is typed, and again when it is kept. */
  readonly onUnkept: (isUnkept: boolean) => void;
}

/** What a photo cannot know, in one form; a group that is left empty was not read. */
export function ReadingsForm({ record, onUnkept }: FormProps): ReactNode {
  const enter = useChange('enterReadings');
  const texts = useReadingTexts(record.readings, useUnits().system);
  const [wrong, setWrong] = useState<string | null>(null);
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const typed = readReadings(new FormData(event.currentTarget), texts.look);
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
      onChange={(event) => {
        if (!isUnitKey(event.target)) onUnkept(true);
      }}
    >
      <UnitsPick texts={texts} />
      <div>
        <ClimateFold texts={texts} />
        <ProfileFold record={record} texts={texts} />
        <DustFold record={record} />
        <SaltsFold texts={texts} isRead={readings.solubleSalts !== null} />
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

interface LiveProps {
  readonly texts: ReadingTexts;
}

function UnitsPick({ texts: { look, turnTo } }: LiveProps): ReactNode {
  return (
    <PickOne
      isNarrow
      label={words.reading.units}
      options={SYSTEMS.map((value) => ({ value, word: words.reading.systems[value] }))}
      value={look.system}
      onPick={turnTo}
    />
  );
}

/** A number that something is computed from as it is typed. */
function LiveField({
  label,
  name,
  unit,
  hint,
  texts,
}: LiveProps & { label: string; name: LiveFieldName; unit: string; hint?: string }): ReactNode {
  return (
    <TextField
      label={label}
      hint={hint}
      name={name}
      suffix={unit}
      inputMode={name === 'profileReadings' ? 'text' : 'decimal'}
      autoComplete="off"
      value={texts.text(name)}
      onChange={(event) => {
        texts.type(name, event.target.value);
      }}
    />
  );
}

const fieldText =
  ({ text }: ReadingTexts): FieldText =>
  (name) =>
    text(name as LiveFieldName).trim();

function ClimateFold({ texts }: LiveProps): ReactNode {
  const { system } = texts.look;
  const climate = climateNow(fieldText(texts), texts.look);
  return (
    <Fold title={words.reading.climate} isOpen>
      <div className="grid-two">
        {(['airTemperature', 'surfaceTemperature'] as const).map((name) => (
          <LiveField
            key={name}
            label={words.reading[name]}
            name={name}
            unit={quantityUnit(name, system)}
            texts={texts}
          />
        ))}
        <LiveField label={words.reading.relativeHumidity} name="relativeHumidityPercent" unit="%" texts={texts} />
      </div>
      <div role="status" className="reading-line">
        <DewPointLine dewPoint={climate === null ? null : dewPointMargin(climate)} system={system} />
      </div>
    </Fold>
  );
}

function ProfileFold({ record, texts }: LiveProps & { record: ZoneRecord }): ReactNode {
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
          <LiveField
            label={words.reading.profileReadings}
            hint={words.reading.profileReadingsHint[texts.look.system]}
            name="profileReadings"
            unit={quantityUnit('profileReadings', texts.look.system)}
            texts={texts}
          />
        ) : null}
      </div>
    </Fold>
  );
}

function DustFold({ record }: { record: ZoneRecord }): ReactNode {
  const dust = record.readings.dust?.value;
  return (
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
  );
}

function SaltsFold({ texts, isRead }: LiveProps & { isRead: boolean }): ReactNode {
  const salts = saltsNow(fieldText(texts), texts.look);
  const patchUnit = quantityUnit('saltsPatch', texts.look.system);
  return (
    <Fold title={words.reading.solubleSalts} isOpen={isRead}>
      <div className="grid-two">
        <LiveField label={words.reading.conductivityRise} name="saltsRise" unit="µS/cm" texts={texts} />
        <LiveField label={words.reading.waterVolume} name="saltsWater" unit="ml" texts={texts} />
        <LiveField label={words.reading.patchArea} name="saltsPatch" unit={patchUnit} texts={texts} />
      </div>
      <div role="status" className="reading-line">
        <SaltsLine saltDensityMgPerM2={salts === null ? null : saltDensityMgPerM2(salts)} />
      </div>
    </Fold>
  );
}

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
