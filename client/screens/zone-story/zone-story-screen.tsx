import { lazy, Suspense, useState } from 'react';
import type { ReactNode } from 'react';
import { useParams } from 'react-router';
import type { ZoneRound } from '@domain/api/rounds.ts';
import type { JobZone } from '@domain/api/zones.ts';
import { useAnswer, usePages } from '../../api/use-answer.ts';
import { Button, LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Page } from '../../components/page.tsx';
import { Standing } from '../../components/standing.tsx';
import { NotHereYet, Waiting } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/story.css';
import { TriedPatches } from '../patch/tried-patches.tsx';
import { ResidueChart } from './residue-chart.tsx';
import { RoundCard } from './round-card.tsx';
import { StoryFacts } from './story-facts.tsx';

const RoundPictures = lazy(async () => ({ default: (await import('./round-pictures.tsx')).RoundPictures }));

/** All rounds of one zone: what was done, what it took, what is left, and the photos to look at closely. */
export function ZoneStoryScreen(): ReactNode {
  const { zoneId = '' } = useParams();
  const zone = useAnswer('readZone', { params: { zoneId } });
  const rounds = usePages('listRounds', { params: { zoneId }, query: { sort: '-number', limit: 25 } });
  if (zone.data === undefined) return <NotHereYet reading={zone} />;
  if (rounds.data === undefined) return <NotHereYet reading={rounds} />;
  const shown = rounds.data.pages.flatMap((page) => page.items);
  const { name, jobName, jobId, standing } = zone.data;
  return (
    <Page title={name} above={{ to: `/jobs/${jobId}`, word: jobName }} lead={<Standing standing={standing} />} isWide>
      <StoryFacts zone={zone.data} />
      <div className="actions">
        <LinkButton look="primary" isWide to={`/zones/${zoneId}/check`}>
          {words.story.checkNext}
        </LinkButton>
        <LinkButton to={`/zones/${zoneId}/record`} icon="record">
          {words.records.ofZone}
        </LinkButton>
        <LinkButton to={`/zones/${zoneId}/label`} icon="print">
          {words.story.label}
        </LinkButton>
      </div>
      <ZonePatches zoneId={zoneId} />
      <StoryOfRounds zone={zone.data} rounds={shown} />
      {rounds.hasNextPage ? (
        <Button
          isBusy={rounds.isFetchingNextPage}
          onClick={() => {
            void rounds.fetchNextPage();
          }}
        >
          {words.more}
        </Button>
      ) : null}
    </Page>
  );
}

function ZonePatches({ zoneId }: { zoneId: string }): ReactNode {
  const patches = useAnswer('listTestPatches', { params: { zoneId } });
  return <TriedPatches patches={patches.data?.items ?? []} heading="h2" />;
}

function StoryOfRounds({ zone, rounds }: { zone: JobZone; rounds: readonly ZoneRound[] }): ReactNode {
  const [pickedId, setPickedId] = useState<string | null>(null);
  const answered = rounds.filter(({ latest }) => latest?.state === 'done');
  const picked = answered.find(({ id }) => id === pickedId) ?? answered.at(0);
  if (rounds.length === 0) {
    return (
      <EmptyState title={words.story.noRounds}>
        <p>{words.story.noRoundsHint}</p>
      </EmptyState>
    );
  }
  return (
    <>
      <div className="story">
        <section className="stack">
          <h2>{words.story.timeline}</h2>
          <ol className="timeline">
            {rounds.map((round) => (
              <RoundCard
                key={round.id}
                round={round}
                isPicked={round.id === picked?.id}
                onPick={() => {
                  setPickedId(round.id);
                }}
              />
            ))}
          </ol>
        </section>
        {answered.length === 0 ? null : <ResidueChart rounds={answered} target={zone.targetGrade} />}
      </div>
      {picked?.latest === undefined || picked.latest === null ? null : (
        <Suspense fallback={<Waiting word={words.story.loadingViewer} />}>
          <RoundPictures key={picked.latest.id} roundNumber={picked.number} assessmentId={picked.latest.id} />
        </Suspense>
      )}
    </>
  );
}
