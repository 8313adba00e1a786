import type { ReactNode } from 'react';
import { useNavigate, useParams } from 'react-router';
import type { ShopComparison } from '@domain/api/comparisons.ts';
import { urlOf } from '../../api/call.ts';
import { useProgress } from '../../api/follow-progress.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { RemoveKey } from '../../components/remove-key.tsx';
import { StandingMark } from '../../components/standing-mark.tsx';
import { NotHereYet, Waiting } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/compare.css';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { WarningsFold } from '../answer/answer-folds.tsx';
import { bestOf, betterOf, realCount } from './comparison-verdict.ts';
import { SidePictures } from './side-pictures.tsx';
import { SideTable } from './side-table.tsx';

/** Sides beside each other, and which of their differences are real. */
export function ComparisonScreen(): ReactNode {
  const { comparisonId = '' } = useParams();
  const comparison = useAnswer('readComparison', { params: { comparisonId } });
  if (comparison.data === undefined) return <NotHereYet reading={comparison} />;
  const { title, progress } = comparison.data;
  return (
    <Page title={title} above={{ to: '/compare', word: words.compare.title }} isWide>
      {progress.state === 'done' ? <Compared comparison={comparison.data} /> : <NotDone comparison={comparison.data} />}
      <RemoveComparison comparisonId={comparisonId} />
    </Page>
  );
}

function NotDone({ comparison: { id, progress } }: { comparison: ShopComparison }): ReactNode {
  const isFailed = progress.state === 'failed';
  const followed = useProgress(isFailed ? null : urlOf('followComparison', { params: { comparisonId: id } }));
  if (isFailed) {
    return (
      <Notice kind="fault">
        <strong>{words.compare.failed}.</strong> {progress.fault?.sentence}
      </Notice>
    );
  }
  return <Waiting word={followed.progress?.stage ?? words.compare.working} />;
}

function Compared({ comparison: { sides, pairs, warnings } }: { comparison: ShopComparison }): ReactNode {
  const letterOf = (name: string): string => words.compare.letter(sides.findIndex((side) => side.name === name));
  // A test patch stands alone: nothing is compared with it.
  const isAlone = pairs.length === 0;
  return (
    <>
      {isAlone ? null : <Headline pairs={pairs} letterOf={letterOf} />}
      <SidePictures sides={sides} />
      <div className="compare-low">
        <SideTable sides={sides} />
        {isAlone ? null : <Pairs pairs={pairs} letterOf={letterOf} />}
      </div>
      <WarningsFold warnings={warnings} />
    </>
  );
}

interface PairsProps {
  readonly pairs: ShopComparison['pairs'];
  readonly letterOf: (name: string) => string;
}

/** The largest thing on the screen: who is cleaner, or that nobody is. */
function Headline({ pairs, letterOf }: PairsProps): ReactNode {
  const [best, smoothest] = [bestOf(pairs, 'residue'), bestOf(pairs, 'texture')];
  const real = realCount(pairs, 'residue');
  const { headline } = words.compare;
  const isPair = pairs.length === 1;
  const named = best === null ? null : isPair ? headline.cleaner(letterOf(best)) : headline.cleanest(letterOf(best));
  return (
    <section className="answer-plate" aria-label={words.compare.title}>
      <p className="answer-big compare-big">
        <StandingMark mark={best === null ? 'doubt' : 'done'} size={48} />
        <span>{named ?? (real === 0 ? headline.none : headline.several)}</span>
      </p>
      <p className="answer-short">
        {isPair ? (real === 0 ? words.compare.within : '') : words.compare.realCount(real, pairs.length)}{' '}
        {textureWords(pairs, smoothest === null ? null : letterOf(smoothest))}
      </p>
    </section>
  );
}

function textureWords(pairs: ShopComparison['pairs'], smoothest: string | null): string {
  const real = realCount(pairs, 'texture');
  if (smoothest !== null) {
    return pairs.length === 1 ? words.compare.smoother(smoothest) : words.compare.smoothest(smoothest);
  }
  return real === 0 ? words.compare.noTexture : words.compare.textureCount(real, pairs.length);
}

function Pairs({ pairs, letterOf }: PairsProps): ReactNode {
  const units = useUnits();
  return (
    <section className="stack">
      <h2>{words.compare.pairs}</h2>
      <ul className="rows">
        {pairs.map((pair) => {
          const [cleaner, smoother] = [betterOf(pair, 'residue'), betterOf(pair, 'texture')];
          const { pairWords } = words.compare;
          return (
            <li key={`${pair.a} ${pair.b}`} className="pair">
              <strong>{words.compare.against(letterOf(pair.a), letterOf(pair.b))}</strong>
              <span className="standing">
                <StandingMark mark={cleaner === null ? 'doubt' : 'done'} />
                {cleaner === null ? pairWords.residueNone : pairWords.cleaner(letterOf(cleaner))}
              </span>
              <span className="standing">
                <StandingMark mark={smoother === null ? 'doubt' : 'done'} />
                {smoother === null ? pairWords.textureNone : pairWords.smoother(letterOf(smoother))}
              </span>
              <span className="muted small">{sentenceInUnits(pair.because, units)}</span>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

function RemoveComparison({ comparisonId }: { comparisonId: string }): ReactNode {
  const remove = useChange('removeComparison');
  const navigate = useNavigate();
  return (
    <div className="actions">
      <RemoveKey
        word={words.compare.remove}
        title={words.compare.removeTitle}
        hint={words.compare.removeHint}
        go={words.compare.removeGo}
        removal={remove}
        onRemove={() => {
          remove.mutate({ params: { comparisonId } }, { onSuccess: () => void navigate('/compare') });
        }}
      />
    </div>
  );
}
