import { useState } from 'react';
import type { ReactNode } from 'react';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { useChange } from '../../api/use-answer.ts';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';
import { readNumber } from '@domain/read-number.ts';

const { scrapeChoices, heatChoices } = words.round;

/** What a photo cannot show: the knife, the eye, the clock. Each entry is kept as it is made. */
export function NoticedForm({ round }: { round: ZoneRound }): ReactNode {
  const change = useChange('changeRound');
  const params = { roundId: round.id };
  // What was just picked shows at once, before the server has said yes.
  const [scrapeTest, setScrapeTest] = useState(round.scrapeTest);
  const [heatTint, setHeatTint] = useState(round.heatTint);
  return (
    <div className="stack stack-wide">
      <PickOne
        label={words.round.scrape}
        options={[
          { value: 'none', word: scrapeChoices.none },
          { value: 'clean', word: scrapeChoices.clean },
          { value: 'material came off', word: scrapeChoices.came },
        ]}
        value={scrapeTest ?? 'none'}
        onPick={(value) => {
          const picked = value === 'none' ? null : value;
          setScrapeTest(picked);
          change.mutate({ params, body: { scrapeTest: picked } });
        }}
      />
      <PickOne
        label={words.round.heat}
        options={[
          { value: 'none', word: heatChoices.none },
          { value: 'no', word: heatChoices.no },
          { value: 'yes', word: heatChoices.yes },
        ]}
        value={heatTint === null ? 'none' : heatTint ? 'yes' : 'no'}
        onPick={(value) => {
          const picked = value === 'none' ? null : value === 'yes';
          setHeatTint(picked);
          change.mutate({ params, body: { heatTint: picked } });
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
