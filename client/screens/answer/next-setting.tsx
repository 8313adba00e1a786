import type { ReactNode } from 'react';
import type { Advice, Suggestion } from '@domain/advice.ts';
import type { ZonePatch } from '@domain/api/test-patches.ts';
import type { Settings } from '@domain/settings.ts';
import { LinkButton } from '../../components/button.tsx';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { Waiting } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { ProposedPatch } from '../patch/proposed-patch.tsx';
import { TriedPatches } from '../patch/tried-patches.tsx';
import { useAdviceNow } from '../patch/use-advice-now.ts';
import { shownAnswer } from './answer-of.ts';
import type { AnswerKind } from './answer-of.ts';
import type { AnswerProps } from './answer-props.ts';
import { PredictedSetting } from './predicted-setting.tsx';
import { StartNextButton } from './start-next-button.tsx';
import { WhyThis } from './why-this.tsx';

/** Below this chance the operator should know that one more round is likely not the last. */
const LOW_CHANCE = 0.5;

export function NextSetting({ assessment, result }: AnswerProps): ReactNode {
  const { zoneId, roundNumber } = assessment;
  const { advice, patches, isWaiting } = useAdviceNow(zoneId, roundNumber, result.advice);
  return (
    <section className="stack">
      <h2>{words.answer.next}</h2>
      {isWaiting ? <Waiting /> : <AdviceShown assessment={assessment} advice={advice} patches={patches} />}
    </section>
  );
}

function AdviceShown({
  assessment,
  advice,
  patches,
}: {
  assessment: AnswerProps['assessment'];
  advice: Advice | null;
  patches: readonly ZonePatch[];
}): ReactNode {
  const { zoneId, basis, corrected } = assessment;
  const units = useUnits();
  const suggestions = advice?.suggestions ?? [];
  const best = suggestions.at(0);
  const because = advice?.because === undefined ? null : <p>{sentenceInUnits(advice.because, units)}</p>;
  return (
    <>
      {corrected.after === null ? null : <Notice kind="note">{words.answer.adviceBefore}</Notice>}
      {patches.length === 0 ? null : <Notice kind="note">{words.patch.withThese(patches.length)}</Notice>}
      {best === undefined ? (
        <>
          <p className="muted">{sayNone(advice, shownAnswer(assessment))}</p>
          {patches.length === 0 ? null : because}
        </>
      ) : (
        <>
          {advice?.testPatch === undefined ? null : (
            <ProposedPatch zoneId={zoneId} patch={advice.testPatch} look="primary" heading="h3" />
          )}
          <div className="plate stack">
            <PredictedSetting outlook={best} last={basis.settings} />
          </div>
          {best.probabilityMeetsTarget < LOW_CHANCE ? <p>{words.answer.chanceLow}</p> : null}
          <Cautions cautions={best.cautions} />
          <StartNextButton
            look={advice?.testPatch === undefined ? 'primary' : 'quiet'}
            zoneId={zoneId}
            settings={best.settings}
          >
            {words.answer.start}
          </StartNextButton>
          <div>
            <Fold title={words.answer.why}>
              {because}
              <WhyThis suggestion={best} />
            </Fold>
            <Alternatives suggestions={suggestions.slice(1)} last={basis.settings} zoneId={zoneId} />
          </div>
        </>
      )}
      {best === undefined || advice?.testPatch !== undefined ? null : (
        <div>
          <LinkButton look="plain" to={`/zones/${zoneId}/patch`}>
            {words.patch.own}
          </LinkButton>
        </div>
      )}
      <TriedPatches patches={patches} heading="h3" />
    </>
  );
}

function sayNone(advice: Advice | null, answer: AnswerKind): string {
  if (advice === null) return words.answer.nextNone;
  if (advice.verdict !== 'meets target') return words.answer.nextNothing;
  return answer === 'another round' ? words.answer.nextNotResidue : words.answer.nextDone;
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
