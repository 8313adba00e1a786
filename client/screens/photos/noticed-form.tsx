import { useState } from 'react';
import type { ReactNode } from 'react';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { useChange } from '../../api/use-answer.ts';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { readNumber } from '@domain/read-number.ts';
import { NoticedPicks } from './noticed-picks.tsx';

/** What a photo cannot show: the knife, the eye, the clock. Each entry is kept as it is made. */
export function NoticedForm({ round }: { round: ZoneRound }): ReactNode {
  const change = useChange('changeRound');
  const params = { roundId: round.id };
  // What was just picked shows at once, before the server has said yes.
  const [noticed, setNoticed] = useState({ scrapeTest: round.scrapeTest, heatTint: round.heatTint });
  return (
    <div className="stack stack-wide">
      <NoticedPicks
        {...noticed}
        onPick={(picked) => {
          setNoticed({ ...noticed, ...picked });
          change.mutate({ params, body: picked });
        }}
      />
      <MinutesField
        minutes={round.minutesSpent}
        onKeep={(minutesSpent) => {
          change.mutate({ params, body: { minutesSpent } });
        }}
      />
      {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
    </div>
  );
}

function MinutesField({
  minutes,
  onKeep,
}: {
  minutes: number | null;
  onKeep: (minutes: number | null) => void;
}): ReactNode {
  const [text, setText] = useState(minutes === null ? '' : String(minutes));
  const value = readNumber(text);
  const isWrong = value === undefined || (value !== null && value < 0);
  return (
    <TextField
      label={words.round.minutes}
      inputMode="decimal"
      suffix={words.round.minutesUnit}
      value={text}
      error={isWrong ? words.zones.numberWrong : undefined}
      onChange={(event) => {
        setText(event.target.value);
      }}
      onBlur={() => {
        if (!isWrong && value !== minutes) onKeep(value);
      }}
    />
  );
}
