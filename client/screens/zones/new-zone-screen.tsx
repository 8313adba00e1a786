import type { SubmitEvent, ReactNode } from 'react';
import { useState } from 'react';
import { useNavigate, useParams } from 'react-router';
import { STANDARD_GRADES } from '@domain/grade.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { newId } from '../../api/new-id.ts';
import { Button } from '../../components/button.tsx';
import { SelectField, TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { readNumber } from '@domain/read-number.ts';
import type { ShownUnits } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { textOf } from '../sign-in/door.tsx';

export function NewZoneScreen(): ReactNode {
  const { jobId = '' } = useParams();
  const [id] = useState(newId);
  const job = useAnswer('readJob', { params: { jobId } });
  const add = useChange('addZone');
  const navigate = useNavigate();
  const units = useUnits();
  const [isWrong, setWrong] = useState(false);
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const body = readZoneForm(new FormData(event.currentTarget), units);
    setWrong(body === null);
    if (body === null || add.isPending) return;
    add.mutate({ params: { jobId }, body: { id, ...body } }, { onSuccess: () => void navigate(`/zones/${id}`) });
  };
  return (
    <Page title={words.zones.newTitle} above={{ to: `/jobs/${jobId}`, word: job.data?.name ?? words.jobs.title }}>
      <form className="stack stack-wide" onSubmit={submit}>
        <ZoneFields units={units} isWrong={isWrong} />
        {add.error === null ? null : <Notice kind="fault">{add.error.message}</Notice>}
        <Button type="submit" look="primary" isWide isBusy={add.isPending}>
          {words.zones.add}
        </Button>
      </form>
    </Page>
  );
}

function ZoneFields({ units, isWrong }: { units: ShownUnits; isWrong: boolean }): ReactNode {
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  const shop = useAnswer('readShop', {});
  const error = isWrong ? words.zones.numberWrong : undefined;
  return (
    <>
      <TextField label={words.zones.name} name="name" hint={words.zones.nameHint} maxLength={120} required />
      <SelectField
        label={words.zones.targetGrade}
        name="targetGrade"
        key={shop.data?.usualTargetGrade ?? 'none'}
        defaultValue={shop.data?.usualTargetGrade ?? ''}
        choices={[
          { value: '', word: words.zones.noTarget },
          ...STANDARD_GRADES.map(({ standard, grade }) => ({ value: grade, word: `${grade} (${standard})` })),
        ]}
      />
      <SelectField
        label={words.zones.surfaceKind}
        name="surfaceKind"
        choices={[
          { value: '', word: words.zones.surfaceOther },
          ...words.zones.surfaceChoices.map((word) => ({ value: word, word })),
        ]}
      />
      <div className="grid-two">
        <TextField
          label={words.zones.thickness}
          name="thickness"
          inputMode="decimal"
          suffix={units.lengthUnit}
          error={error}
        />
        <TextField label={words.zones.area} name="area" inputMode="decimal" suffix={units.areaUnit} error={error} />
      </div>
      <SelectField
        label={words.zones.machine}
        name="machineId"
        key={machines.data === undefined ? 'waiting' : 'there'}
        defaultValue={shop.data?.usualMachineId ?? machines.data?.items[0]?.id ?? ''}
        choices={[
          { value: '', word: words.zones.noMachine },
          ...(machines.data?.items ?? []).map(({ id, name }) => ({ value: id, word: name })),
        ]}
      />
    </>
  );
}

interface ZoneEntries {
  readonly name: string;
  readonly surfaceKind: string;
  readonly targetGrade: string | null;
  readonly machineId: string | null;
  readonly thicknessMm: number | null;
  readonly areaM2: number | null;
}

/** @returns null when a number is not one */
function readZoneForm(entries: FormData, units: ShownUnits): ZoneEntries | null {
  const thickness = readNumber(textOf(entries, 'thickness'));
  const area = readNumber(textOf(entries, 'area'));
  const isWrong = [thickness, area].some((number) => number === undefined || (number !== null && number <= 0));
  if (isWrong || thickness === undefined || area === undefined) return null;
  const orNull = (name: string): string | null => (textOf(entries, name) === '' ? null : textOf(entries, name));
  return {
    name: textOf(entries, 'name'),
    surfaceKind: textOf(entries, 'surfaceKind'),
    targetGrade: orNull('targetGrade'),
    machineId: orNull('machineId'),
    thicknessMm: thickness === null ? null : units.millimetresOf(thickness),
    areaM2: area === null ? null : units.squareMetresOf(area),
  };
}
