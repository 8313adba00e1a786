import type { ReactNode } from 'react';
import type { AssessmentSummary, ZoneAssessment } from '@domain/api/assessments.ts';
import type { Lesson } from '@domain/api/lessons.ts';
import type { ShopMachine } from '@domain/api/machines.ts';
import type { Settings } from '@domain/settings.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { SelectField } from '../../components/field.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { formatDay } from '../../units/format-moment.ts';
import { suggestedSettings } from '../check/first-settings.ts';
import { MachinePicker } from '../check/machine-picker.tsx';
import { SettingsDials } from '../check/settings-dials.tsx';
import { LinePictures, LinePlate } from './line-part.tsx';
import { PlatePart } from './plate-part.tsx';

export type LessonDraft = Pick<Lesson, 'assessmentId' | 'settings' | 'machineId'>;

interface DeskProps {
  readonly draft: LessonDraft;
  readonly machines: readonly ShopMachine[];
  readonly answers: readonly AssessmentSummary[];
  readonly onChange: (draft: LessonDraft) => void;
}

/** A plate, the dials and the line they make; what is chosen here is what a lesson keeps. */
export function LessonDesk({ draft, machines, answers, onChange }: DeskProps): ReactNode {
  const sent = draft.assessmentId === null ? null : { params: { assessmentId: draft.assessmentId } };
  const assessment = useAnswer('readAssessment', sent);
  if (sent !== null && assessment.data === undefined) return <NotHereYet reading={assessment} />;
  return (
    <DeskParts
      key={draft.assessmentId ?? 'none'}
      draft={draft}
      machines={machines}
      answers={answers}
      onChange={onChange}
      assessment={assessment.data ?? null}
    />
  );
}

function DeskParts({
  draft,
  machines,
  answers,
  onChange,
  assessment,
}: DeskProps & { assessment: ZoneAssessment | null }): ReactNode {
  const onPlate = assessment?.basis ?? null;
  const machineId = draft.machineId ?? onPlate?.machineId;
  const machine = machines.find(({ id }) => id === machineId) ?? machines.at(0);
  const result = assessment?.result ?? null;
  if (machine === undefined) return <p className="muted">{words.round.noMachineHint}</p>;
  const settings = draft.settings ?? suggestedSettings(onPlate?.settings ?? null, machine);
  const choose = (part: Partial<LessonDraft>): void => {
    onChange({ ...draft, settings, machineId: machine.id, ...part });
  };
  return (
    <>
      <LinePlate settings={settings} machine={machine.machine} streaks={result?.streaks ?? null} />
      <AnswerChoice
        answers={answers}
        assessment={assessment}
        onChoose={(assessmentId) => {
          // The dials begin as they stood on that plate.
          onChange({ assessmentId, settings: null, machineId: null });
        }}
      />
      <div className="teach">
        {assessment === null || result === null ? null : <PlatePart assessment={assessment} result={result} />}
        <div className="stack stack-wide">
          <LinePictures settings={settings} machine={machine.machine} />
          <section className="stack">
            <h2>{words.teach.dials}</h2>
            <MachinePicker
              machines={machines}
              machine={machine}
              onPick={(id) => {
                choose({ machineId: id });
              }}
            />
            <SettingsDials
              settings={settings}
              machine={machine}
              last={onPlate?.settings ?? null}
              onChange={(next) => {
                choose({ settings: next });
              }}
            />
            <BackToPlate
              onPlate={onPlate?.settings ?? null}
              onBack={(plateSettings) => {
                choose({ settings: plateSettings });
              }}
            />
          </section>
        </div>
      </div>
    </>
  );
}

function BackToPlate({
  onPlate,
  onBack,
}: {
  onPlate: Settings | null;
  onBack: (settings: Settings) => void;
}): ReactNode {
  if (onPlate === null) return null;
  return (
    <div>
      <Button
        onClick={() => {
          onBack(onPlate);
        }}
      >
        {words.teach.asOnPlate}
      </Button>
    </div>
  );
}

function AnswerChoice({
  answers,
  assessment,
  onChoose,
}: {
  answers: readonly AssessmentSummary[];
  assessment: ZoneAssessment | null;
  onChoose: (id: string | null) => void;
}): ReactNode {
  const isListed = assessment === null || answers.some(({ id }) => id === assessment.id);
  const all = isListed ? answers : [assessment, ...answers];
  return (
    <SelectField
      label={words.teach.answer}
      value={assessment?.id ?? ''}
      choices={[
        { value: '', word: words.teach.noAnswer },
        ...all.map(({ id, zoneName, roundNumber, queuedAt }) => ({
          value: id,
          word: words.teach.answerWord(zoneName, roundNumber, formatDay(queuedAt)),
        })),
      ]}
      onChange={(event) => {
        onChoose(event.target.value === '' ? null : event.target.value);
      }}
    />
  );
}
