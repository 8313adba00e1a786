import type { ReactNode } from 'react';
import type { ZoneRound } from '@domain/api/rounds.ts';
import type { Settings } from '@domain/settings.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { words } from '../../i18n/words.ts';
import { useAdviceNow } from '../patch/use-advice-now.ts';
import { TakeAdvised } from './take-advised.tsx';

/** What the last answer advised, and test patches since, for somebody who did not come from it. */
export function AdvisedSettings(props: {
  last: ZoneRound;
  settings: Settings;
  onTakeOver: (settings: Settings) => void;
}): ReactNode {
  const { last, settings, onTakeOver } = props;
  const assessmentId = last.latest?.id;
  const answer = useAnswer('readAssessment', assessmentId === undefined ? null : { params: { assessmentId } });
  const { advice } = useAdviceNow(last.zoneId, last.number, answer.data?.result?.advice ?? null);
  const advised = advice?.suggestions.at(0)?.settings;
  if (advised === undefined) return null;
  return <TakeAdvised word={words.round.advised} advised={advised} settings={settings} onTakeOver={onTakeOver} />;
}
