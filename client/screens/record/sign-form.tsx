import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import type { ZoneRecord } from '@domain/api/records.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextArea, TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';
import { useWho } from '../../session/who.ts';
import { textOf } from '../sign-in/door.tsx';

type Verdict = 'accepted' | 'rejected';

/** The decision with the password typed again. Whoever prepared the record sees why another person must sign. */
export function SignForm({ record }: { record: ZoneRecord }): ReactNode {
  const who = useWho();
  const sign = useChange('signRecord');
  const [verdict, setVerdict] = useState<Verdict>('accepted');
  const person = who.data?.person ?? null;
  if (person === null) return null;
  const { prepared, isTwoPersonRuleOn } = record;
  if (isTwoPersonRuleOn && prepared?.by.id === person.id) {
    return <Notice kind="caution">{words.record.twoPersons(prepared.by.name)}</Notice>;
  }
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const entries = new FormData(event.currentTarget);
    sign.mutate({
      params: { recordId: record.id },
      body: { verdict, reason: textOf(entries, 'reason'), password: textOf(entries, 'password') },
    });
  };
  return (
    <form className="plate stack" onSubmit={submit}>
      <h2>{words.record.signTitle}</h2>
      <p>{words.record.signAs(person.name, words.me.role[person.role])}</p>
      <PickOne
        label={words.record.verdict}
        options={[
          { value: 'accepted', word: words.record.accept },
          { value: 'rejected', word: words.record.reject },
        ]}
        value={verdict}
        onPick={setVerdict}
      />
      {verdict === 'accepted' ? <UnmetCaution record={record} /> : null}
      <TextArea
        label={words.record.reason}
        hint={words.record.reasonHint}
        name="reason"
        maxLength={2000}
        required={verdict === 'rejected'}
      />
      <TextField
        label={words.record.password}
        hint={words.record.passwordHint}
        name="password"
        type="password"
        autoComplete="current-password"
        required
      />
      {sign.error === null ? null : <Notice kind="fault">{sign.error.message}</Notice>}
      <Button type="submit" look="primary" isWide isBusy={sign.isPending}>
        {words.record.sign[verdict]}
      </Button>
    </form>
  );
}

/** Nothing is kept from signing by a measurement, but it is said. */
function UnmetCaution({ record }: { record: ZoneRecord }): ReactNode {
  const { grade = null, correctedGrade = null } = record.content ?? {};
  const decision = (correctedGrade ?? grade)?.decision ?? 'cannot tell';
  if (decision === 'meets') return null;
  return <Notice kind="caution">{decision === 'does not meet' ? words.record.notMet : words.record.cannotTell}</Notice>;
}
