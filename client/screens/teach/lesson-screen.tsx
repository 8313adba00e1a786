import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { useNavigate, useParams, useSearchParams } from 'react-router';
import type { Lesson } from '@domain/api/lessons.ts';
import { newId } from '../../api/new-id.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextArea, TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { RemoveKey } from '../../components/remove-key.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/teach.css';
import { textOf } from '../sign-in/door.tsx';
import { LessonDesk } from './lesson-desk.tsx';
import type { LessonDraft } from './lesson-desk.tsx';

const ABOVE = { to: '/teach', word: words.teach.title };
const MOST_ANSWERS = 50;

export function LessonScreen(): ReactNode {
  const { lessonId = '' } = useParams();
  const lesson = useAnswer('readLesson', { params: { lessonId } });
  if (lesson.data === undefined) return <NotHereYet reading={lesson} />;
  return <LessonPage key={lessonId} lesson={lesson.data} first={lesson.data} />;
}

/** A lesson that begins, from an answer that the address may name. */
export function NewLessonScreen(): ReactNode {
  const [search] = useSearchParams();
  return <LessonPage lesson={null} first={{ assessmentId: search.get('answer'), settings: null, machineId: null }} />;
}

function LessonPage({ lesson, first }: { lesson: Lesson | null; first: LessonDraft }): ReactNode {
  const [draft, setDraft] = useState<LessonDraft>({
    assessmentId: first.assessmentId,
    settings: first.settings,
    machineId: first.machineId,
  });
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  const answers = useAnswer('listAssessments', { query: { limit: MOST_ANSWERS, state: 'done' } });
  const mayKeep = useMayCall('addLesson');
  return (
    <Page title={lesson?.title ?? words.teach.newTitle} above={ABOVE} isWide>
      {machines.data === undefined || answers.data === undefined ? (
        <NotHereYet reading={machines.data === undefined ? machines : answers} />
      ) : (
        <LessonDesk draft={draft} machines={machines.data.items} answers={answers.data.items} onChange={setDraft} />
      )}
      {mayKeep ? <LessonForm lesson={lesson} draft={draft} /> : <p className="lesson-note">{lesson?.note}</p>}
    </Page>
  );
}

function LessonForm({ lesson, draft }: { lesson: Lesson | null; draft: LessonDraft }): ReactNode {
  const [id] = useState(() => lesson?.id ?? newId());
  const add = useChange('addLesson');
  const change = useChange('changeLesson');
  const navigate = useNavigate();
  const saving = lesson === null ? add : change;
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    if (saving.isPending) return;
    const entries = new FormData(event.currentTarget);
    const body = { ...draft, title: textOf(entries, 'title'), note: textOf(entries, 'note') };
    if (lesson === null) {
      add.mutate({ body: { id, ...body } }, { onSuccess: () => void navigate(`/teach/${id}`, { replace: true }) });
    } else change.mutate({ params: { lessonId: id }, body });
  };
  return (
    <section className="stack teach-form">
      <h2>{words.teach.lesson}</h2>
      <form className="stack" onSubmit={submit}>
        <TextField
          label={words.teach.name}
          hint={words.teach.nameHint}
          name="title"
          maxLength={120}
          defaultValue={lesson?.title}
          autoComplete="off"
          required
        />
        <TextArea
          label={words.teach.note}
          hint={words.teach.noteHint}
          name="note"
          maxLength={4000}
          rows={5}
          defaultValue={lesson?.note}
        />
        {saving.error === null ? null : <Notice kind="fault">{saving.error.message}</Notice>}
        <div role="status">{change.isSuccess ? <Notice kind="note">{words.teach.kept}</Notice> : null}</div>
        <Button type="submit" look="primary" isWide isBusy={saving.isPending}>
          {words.teach.keep}
        </Button>
      </form>
      {lesson === null ? null : <RemoveLesson lesson={lesson} />}
    </section>
  );
}

function RemoveLesson({ lesson: { id, title } }: { lesson: Lesson }): ReactNode {
  const remove = useChange('removeLesson');
  const navigate = useNavigate();
  return (
    <div className="actions">
      <RemoveKey
        word={words.teach.remove}
        title={words.teach.removeTitle(title)}
        hint={words.teach.removeHint}
        go={words.teach.removeGo}
        removal={remove}
        onRemove={() => {
          remove.mutate({ params: { lessonId: id } }, { onSuccess: () => void navigate('/teach') });
        }}
      />
    </div>
  );
}
