import type { ReactNode } from 'react';
import type { Suggestion, TestPatch } from '@domain/advice.ts';
import type { Settings } from '@domain/settings.ts';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from '../check/shown-setting.ts';
import type { AnswerProps } from './answer-props.ts';
import { PredictedSetting } from './predicted-setting.tsx';
import { StartNextButton } from './start-next-button.tsx';

/** Below this chance the operator should know that one more round is likely not the last. */
const LOW_CHANCE = 0.5;

export function NextSetting({ assessment, result }: AnswerProps): ReactNode {
  const suggestions = result.advice?.suggestions ?? [];
  const best = suggestions.at(0);
  const { zoneId, basis } = assessment;
  const units = useUnits();
  return (
    <section className="stack">
      <h2>{words.answer.next}</h2>
      {assessment.corrected.after === null ? null : <Notice kind="note">{words.answer.adviceBefore}</Notice>}
      {best === undefined ? (
        <p className="muted">{sayNone(result.advice)}</p>
      ) : (
        <>
          <TestPatchFirst patch={result.advice?.testPatch} />
          <div className="plate stack">
            <PredictedSetting outlook={best} last={basis.settings} />
          </div>
          {best.probabilityMeetsTarget < LOW_CHANCE ? <p>{words.answer.chanceLow}</p> : null}
          <Cautions cautions={best.cautions} />
          <StartNextButton look="primary" zoneId={zoneId} settings={best.settings}>
            {words.answer.start}
          </StartNextButton>
          <div>
            <Fold title={words.answer.why}>
              {result.advice?.because === undefined ? null : <p>{sentenceInUnits(result.advice.because, units)}</p>}
              <p>{sentenceInUnits(best.why, units)}</p>
              {best.changesMind === undefined ? null : (
                <>
                  <h3>{words.advice.changesMind}</h3>
                  <p>{sentenceInUnits(best.changesMind, units)}</p>
                </>
              )}
            </Fold>
            <Alternatives suggestions={suggestions.slice(1)} last={basis.settings} zoneId={zoneId} />
          </div>
        </>
      )}
    </section>
  );
}

function TestPatchFirst({ patch }: { patch: TestPatch | undefined }): ReactNode {
  const units = useUnits();
  if (patch === undefined) return null;
  return (
    <Notice kind="note">
      <h3>{words.advice.patchTitle}</h3>
      <p>{sentenceInUnits(patch.why, units)}</p>
      <p>
        {words.advice.patchGo}:{' '}
        {SETTING_KEYS.map((key) => shownSetting(key, patch.settings[key], units).text).join(', ')}
      </p>
    </Notice>
  );
}

function sayNone(advice: AnswerProps['result']['advice']): string {
  if (advice === null) return words.answer.nextNone;
  return advice.verdict === 'meets target' ? words.answer.nextDone : words.answer.nextNothing;
}

function Cautions({ cautions }: { cautions: readonly string[] }): ReactNode {
  const units = useUnits();
  return (
    <Notice kind="caution">
      <h3>{words.answer.cautions}</h3>
      <ul className="points">
        {[...cautions, ...words.round.cautions].map((caution) => (
          <li key={caution}>{sentenceInUnits(caution, units)}</li>
        ))}
      </ul>
    </Notice>
  );
}

function Alternatives({
  suggestions,
  last,
  zoneId,
}: {
  suggestions: readonly Suggestion[];
  last: Settings | null;
  zoneId: string;
}): ReactNode {
  const units = useUnits();
  if (suggestions.length === 0) return null;
  return (
    <Fold title={words.answer.alternatives(suggestions.length)}>
      <ul className="stack stack-wide">
        {suggestions.map((suggestion) => (
          <li key={JSON.stringify(suggestion.settings)} className="stack">
            <h3>{words.answer.lever[suggestion.lever]}</h3>
            <div className="plate stack">
              <PredictedSetting outlook={suggestion} last={last} />
            </div>
            {suggestion.cautions.map((caution) => (
              <Notice key={caution} kind="caution">
                {sentenceInUnits(caution, units)}
              </Notice>
            ))}
            <StartNextButton zoneId={zoneId} settings={suggestion.settings}>
              {words.answer.startOther}
            </StartNextButton>
          </li>
        ))}
      </ul>
    </Fold>
  );
}
