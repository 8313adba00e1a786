import { useState } from 'react';
import type { ReactNode } from 'react';
import { useNavigate } from 'react-router';
import type { NewComparison } from '@domain/api/comparisons.ts';
import { newId } from '../../api/new-id.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/compare.css';
import { AnswerPicker } from './answer-picker.tsx';
import { PatchDesk } from './patch-desk.tsx';

type Kind = NewComparison['of']['kind'];
const KINDS = ['assessments', 'patches'] as const satisfies readonly Kind[];

/** Chooses what is set side by side: answers, or patches of one photo. */
export function NewComparisonScreen(): ReactNode {
  const [id] = useState(newId);
  const [kind, setKind] = useState<Kind>('assessments');
  const [title, setTitle] = useState('');
  const [of, setOf] = useState<NewComparison['of'] | null>(null);
  const [isTold, setTold] = useState(false);
  const add = useChange('addComparison');
  const navigate = useNavigate();
  const missing = title.trim() === '' ? words.compare.needTitle : of === null ? words.compare.needTwo : null;
  const go = (): void => {
    setTold(true);
    if (missing !== null || of === null || add.isPending) return;
    add.mutate({ body: { id, title, of } }, { onSuccess: () => void navigate(`/compare/${id}`, { replace: true }) });
  };
  return (
    <Page title={words.compare.add} above={{ to: '/compare', word: words.compare.title }}>
      <TextField
        label={words.compare.name}
        hint={words.compare.nameHint}
        value={title}
        maxLength={120}
        autoComplete="off"
        onChange={(event) => {
          setTitle(event.target.value);
        }}
      />
      <PickOne
        label={words.compare.of}
        options={KINDS.map((value) => ({ value, word: words.compare.kinds[value] }))}
        value={kind}
        onPick={(picked) => {
          setKind(picked);
          setOf(null);
        }}
      />
      {kind === 'assessments' ? <AnswerPicker onPick={setOf} /> : <PatchDesk onPick={setOf} />}
      {isTold && missing !== null ? <Notice kind="fault">{missing}</Notice> : null}
      {add.error === null ? null : <Notice kind="fault">{add.error.message}</Notice>}
      <div className="actions actions-low">
        <Button look="primary" isWide isBusy={add.isPending} onClick={go}>
          {words.compare.go}
        </Button>
      </div>
    </Page>
  );
}
