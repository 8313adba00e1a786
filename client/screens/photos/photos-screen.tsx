import type { ReactNode } from 'react';
import { useParams } from 'react-router';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button, LinkButton } from '../../components/button.tsx';
import { Fold } from '../../components/fold.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { RoundSteps } from '../check/round-steps.tsx';
import { FramingAdvice } from './framing-advice.tsx';
import { NoticedForm } from './noticed-form.tsx';
import { PhotoPlace } from './photo-place.tsx';

export function PhotosScreen(): ReactNode {
  const { roundId = '' } = useParams();
  const round = useAnswer('readRound', { params: { roundId } });
  const zone = useAnswer('readZone', round.data === undefined ? null : { params: { zoneId: round.data.zoneId } });
  if (round.data === undefined) return <NotHereYet reading={round} />;
  const { zoneId, number, before, after } = round.data;
  return (
    <Page
      title={words.round.photosTitle(number)}
      above={{ to: `/zones/${zoneId}`, word: zone.data?.name ?? words.story.timeline }}
      lead={words.round.photosLead}
    >
      <RoundSteps at={1} />
      <div>
        <Fold title={words.round.framing} isOpen={number === 1 && before === null && after === null}>
          <FramingAdvice />
        </Fold>
      </div>
      <div className="grid-two">
        <PhotoPlace round={round.data} role="before" />
        <PhotoPlace round={round.data} role="after" />
      </div>
      <div>
        <Fold title={words.round.noticed}>
          <NoticedForm round={round.data} />
        </Fold>
      </div>
      <OnToZone round={round.data} />
    </Page>
  );
}

function OnToZone({ round }: { round: ZoneRound }): ReactNode {
  const first = round.before === null || round.before.outline !== null ? 'after' : 'before';
  return (
    <div className="actions actions-low">
      {round.after === null ? (
        <>
          <Button look="primary" isWide disabled>
            {words.round.toOutline}
          </Button>
          <p className="muted small">{words.round.needAfter}</p>
        </>
      ) : (
        <LinkButton look="primary" isWide to={`/rounds/${round.id}/zone/${first}`}>
          {words.round.toOutline}
        </LinkButton>
      )}
    </div>
  );
}
