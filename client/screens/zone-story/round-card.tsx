import type { ReactNode } from 'react';
import type { RoundPhoto } from '@domain/api/photos.ts';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { urlOf } from '../../api/call.ts';
import { Button, LinkButton } from '../../components/button.tsx';
import { StandingMark } from '../../components/standing-mark.tsx';
import { words } from '../../i18n/words.ts';
import { formatDay, formatMinutes } from '../../units/format-moment.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { ANSWER_MARKS, shownAnswer } from '../answer/answer-of.ts';
import { SETTING_KEYS, shownSetting } from '../check/shown-setting.ts';

export function RoundCard({
  round,
  isPicked,
  onPick,
}: {
  round: ZoneRound;
  isPicked: boolean;
  onPick: () => void;
}): ReactNode {
  const units = useUnits();
  const { settings, minutesSpent, number, createdAt } = round;
  const facts = [
    ...(settings === null ? [] : SETTING_KEYS.map((key) => shownSetting(key, settings[key], units).text)),
    ...(minutesSpent === null ? [] : [formatMinutes(minutesSpent)]),
  ];
  return (
    <li className={isPicked ? 'round-card round-picked' : 'round-card'}>
      <div className="row apart">
        <h3>{words.story.round(number)}</h3>
        <span className="muted small">{formatDay(createdAt)}</span>
      </div>
      <div className="round-photos">
        <RoundThumbnail photo={round.before} word={words.story.before} />
        <RoundThumbnail photo={round.after} word={words.story.after} />
      </div>
      <RoundAnswer round={round} />
      <p className="muted small">{facts.join(' · ')}</p>
      <RoundKeys round={round} isPicked={isPicked} onPick={onPick} />
    </li>
  );
}

function RoundThumbnail({ photo, word }: { photo: RoundPhoto | null; word: string }): ReactNode {
  return (
    <figure className="round-photo">
      {photo === null ? (
        <div className="round-photo-none" />
      ) : (
        <img
          src={urlOf('readThumbnail', { params: { photoId: photo.photo.id } })}
          width={photo.photo.widthPx}
          height={photo.photo.heightPx}
          alt=""
          loading="lazy"
        />
      )}
      <figcaption className="small">{word}</figcaption>
    </figure>
  );
}

function RoundAnswer({ round: { latest } }: { round: ZoneRound }): ReactNode {
  if (latest?.state !== 'done' || latest.residue === null) {
    return <p className="muted">{latest?.fault?.sentence ?? words.story.noAnswerYet}</p>;
  }
  const kind = shownAnswer(latest);
  const { residue, correctedResidue } = latest;
  return (
    <p className="round-answer">
      <span className="standing">
        <StandingMark mark={ANSWER_MARKS[kind]} />
        {words.answer.big[kind]}
      </span>
      <span>
        <strong>{words.zones.left(formatShare(correctedResidue ?? residue.value))}</strong>{' '}
        <span className="muted">
          (
          {correctedResidue === null
            ? formatShareInterval(residue)
            : words.story.correctedFrom(formatShare(residue.value))}
          )
        </span>
      </span>
    </p>
  );
}

function RoundKeys({
  round,
  isPicked,
  onPick,
}: {
  round: ZoneRound;
  isPicked: boolean;
  onPick: () => void;
}): ReactNode {
  const { latest, id, number } = round;
  if (latest === null) return <LinkButton to={`/rounds/${id}/photos`}>{words.story.goOn}</LinkButton>;
  return (
    <div className="row">
      <LinkButton to={`/assessments/${latest.id}`}>{words.story.answer}</LinkButton>
      {latest.state === 'done' && !isPicked ? (
        <Button aria-label={`${words.story.viewer}: ${words.story.round(number)}`} onClick={onPick}>
          {words.story.viewer}
        </Button>
      ) : null}
    </div>
  );
}
