import { useMemo, useState } from 'react';
import type { ReactNode } from 'react';
import type { Viewer } from 'openseadragon';
import type { ZoneAssessment } from '@domain/api/assessments.ts';
import { Notice } from '../components/notice.tsx';
import { words } from '../i18n/words.ts';
import '../styles/viewer.css';
import { AfterLayers } from './after-layers.tsx';
import { DividerBar } from './divider-bar.tsx';
import { pictureFrame } from './picture-frame.ts';
import type { PictureFrame } from './picture-frame.ts';
import { alignPair, useLinkedViewers } from './linked-viewers.ts';
import { PhotoPane } from './photo-pane.tsx';
import { ViewerControls } from './viewer-controls.tsx';
import { FIRST_CHOICES } from './viewer-choices.ts';
import type { ViewerChoices } from './viewer-choices.ts';

const FIRST_DIVIDER = 0.5;

/** Before and after of one round, looked at closely. */
export function PairViewer({ assessment }: { assessment: ZoneAssessment }): ReactNode {
  const [frames] = useState(() => ({
    before: pictureFrame(assessment, 'before'),
    after: pictureFrame(assessment, 'after'),
  }));
  const [choices, setChoices] = useState<ViewerChoices>(() =>
    frames.before === null ? { ...FIRST_CHOICES, view: 'after' } : FIRST_CHOICES,
  );
  if (frames.after === null) return null;
  return (
    <PairPanes
      assessment={assessment}
      before={frames.before}
      after={frames.after}
      choices={choices}
      onChoose={setChoices}
    />
  );
}

interface PairProps {
  readonly assessment: ZoneAssessment;
  readonly before: PictureFrame | null;
  readonly after: PictureFrame;
  readonly choices: ViewerChoices;
  readonly onChoose: (choices: ViewerChoices) => void;
}

function PairPanes({ assessment, before, after, choices, onChoose }: PairProps): ReactNode {
  const [beforeViewer, setBeforeViewer] = useState<Viewer | null>(null);
  const [afterViewer, setAfterViewer] = useState<Viewer | null>(null);
  const [divider, setDivider] = useState(FIRST_DIVIDER);
  const alignment = useMemo(() => (before === null ? null : alignPair(before, after)), [before, after]);
  useLinkedViewers(beforeViewer, afterViewer, alignment);
  const hasBefore = before !== null && choices.view !== 'after';
  return (
    <div className="viewer">
      <div className={`stage stage-${choices.view}`}>
        <div className="viewer-pane">
          <PhotoPane frame={after} word={words.story.after} onViewer={setAfterViewer}>
            {(view) => <AfterLayers assessment={assessment} frame={after} view={view} choices={choices} />}
          </PhotoPane>
          <span className="pane-word pane-word-after">{words.story.after}</span>
        </div>
        {hasBefore ? (
          <div
            className="viewer-pane viewer-before"
            style={choices.view === 'divider' ? { clipPath: `inset(0 ${(1 - divider) * 100}% 0 0)` } : undefined}
          >
            <PhotoPane frame={before} word={words.story.before} onViewer={setBeforeViewer}>
              {() => null}
            </PhotoPane>
            <span className="pane-word">{words.story.before}</span>
          </div>
        ) : null}
        {hasBefore && choices.view === 'divider' ? <DividerBar at={divider} onMove={setDivider} /> : null}
      </div>
      {hasBefore && alignment?.isTrue === false ? <Notice kind="note">{words.story.notAligned}</Notice> : null}
      <ViewerControls
        choices={choices}
        onChoose={onChoose}
        viewer={afterViewer}
        frame={after}
        hasBefore={before !== null}
        streaks={assessment.result?.streaks.found ?? false}
      />
    </div>
  );
}
