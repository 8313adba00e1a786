import type { Viewer } from 'openseadragon';
import { useState } from 'react';
import type { ReactNode } from 'react';
import { LinkButton } from '../../components/button.tsx';
import { Switch } from '../../components/switch.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/viewer.css';
import { MarkLayer } from '../../viewer/mark-layer.tsx';
import { PhotoPane } from '../../viewer/photo-pane.tsx';
import { linesInPhoto, pictureFrame } from '../../viewer/picture-frame.ts';
import type { PictureFrame } from '../../viewer/picture-frame.ts';
import { ScaleBar } from '../../viewer/scale-bar.tsx';
import { ZoomKeys } from '../../viewer/zoom-keys.tsx';
import type { AnswerProps } from '../answer/answer-props.ts';
import { StreakSection } from '../answer/streak-section.tsx';

/** A real plate with its streaks drawn, and what they are in words. */
export function PlatePart({ assessment, result }: AnswerProps): ReactNode {
  const [frame] = useState(() => pictureFrame(assessment, 'after'));
  return (
    <section className="stack">
      <h2>{words.teach.plate}</h2>
      {frame === null ? null : <StreakPane assessment={assessment} frame={frame} />}
      <StreakSection assessment={assessment} result={result} />
      <div>
        <LinkButton to={`/assessments/${assessment.id}`}>{words.teach.openAnswer}</LinkButton>
      </div>
    </section>
  );
}

function StreakPane({ assessment, frame }: { assessment: AnswerProps['assessment']; frame: PictureFrame }): ReactNode {
  const [viewer, setViewer] = useState<Viewer | null>(null);
  const [isDrawn, setDrawn] = useState(true);
  const lines = linesInPhoto(assessment);
  return (
    <>
      <div className="stage">
        <div className="viewer-pane">
          <PhotoPane frame={frame} word={words.teach.plateWord} onViewer={setViewer}>
            {(view) => (
              <>
                <MarkLayer view={view} marks={{ zone: frame.zonePx, worst: null, streaks: isDrawn ? lines : [] }} />
                {frame.toMm === null ? null : <ScaleBar view={view} toMm={frame.toMm} />}
              </>
            )}
          </PhotoPane>
        </div>
      </div>
      {lines.length === 0 ? null : (
        <Switch
          isOn={isDrawn}
          onTurn={() => {
            setDrawn(!isDrawn);
          }}
        >
          {words.teach.streakLines}
        </Switch>
      )}
      <ZoomKeys viewer={viewer} frame={frame} />
    </>
  );
}
