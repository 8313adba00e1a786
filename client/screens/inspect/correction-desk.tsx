import type { Viewer } from 'openseadragon';
import { useState } from 'react';
import type { ReactNode } from 'react';
import type { ZoneAssessment } from '@domain/api/assessments.ts';
import type { Corrections } from '@domain/api/corrections.ts';
import type { PhotoRole } from '@domain/api/photos.ts';
import type { Grade } from '@domain/grade.ts';
import type { Surface } from '@domain/surface.ts';
import { ClassKey } from '../../components/class-key.tsx';
import { isTargetGrade } from '../../components/grade-table.tsx';
import { Switch } from '../../components/switch.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import { formatShare } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import type { PictureFrame } from '../../viewer/picture-frame.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import { ZoomKeys } from '../../viewer/zoom-keys.tsx';
import { BRUSH, mapPxPerBrushUnit } from './brush-size.ts';
import { useDoubtfulMap, useStandingMap } from './class-maps.ts';
import { useCorrectionDraft } from './correction-draft.ts';
import { CorrectionLog } from './correction-log.tsx';
import { CorrectionPane } from './correction-pane.tsx';
import { DraftKeys } from './draft-keys.tsx';
import { PaintTools } from './paint-tools.tsx';
import type { ToolChoice } from './paint-tools.tsx';
import { ShareTable } from './share-table.tsx';

const FIRST_CHOICE: ToolChoice = { tool: 'move', paint: 'bare', size: BRUSH.first };

interface DeskProps {
  readonly assessment: ZoneAssessment;
  readonly role: PhotoRole;
  readonly frame: PictureFrame;
  readonly surface: Surface;
  readonly corrections: Corrections;
}

/** The class map of one photo, what people painted on it, and the shares that come of it. */
export function CorrectionDesk({ assessment, role, frame, surface, corrections }: DeskProps): ReactNode {
  const { id } = assessment;
  const units = useUnits();
  const mayPaint = useMayCall('addCorrection');
  const [choice, setChoice] = useState(FIRST_CHOICE);
  const [corners, setCorners] = useState<readonly Point[]>([]);
  const [viewer, setViewer] = useState<Viewer | null>(null);
  const [isDoubtShown, setDoubtShown] = useState(false);
  const standing = useStandingMap(id, role);
  const { hasDoubtful = false, photoPxPerPixel = 1 } = assessment.classMaps[role] ?? {};
  const doubtful = useDoubtfulMap(id, role, hasDoubtful && isDoubtShown);
  const draft = useCorrectionDraft(id, role, standing.data);
  const radiusPx = (choice.size / 2) * mapPxPerBrushUnit(frame, photoPxPerPixel);
  const now = draft.marks.length === 0 ? corrections.corrected[role] : (draft.trial.data ?? null);
  const isCounting = draft.trial.isFetching && draft.marks.length > 0;
  return (
    <div className="desk">
      <CorrectionPane
        frame={frame}
        map={draft.map}
        doubtful={isDoubtShown ? doubtful.data : undefined}
        photoPxPerPixel={photoPxPerPixel}
        brush={{ tool: choice.tool, paint: choice.paint, radiusPx }}
        corners={corners}
        onCorners={setCorners}
        onMark={draft.add}
        onViewer={setViewer}
      />
      <div className="desk-side">
        {mayPaint ? (
          <>
            <PaintTools
              choice={choice}
              shownSize={frame.toMm === null ? `${choice.size} px` : units.length(choice.size)}
              onChoose={(next) => {
                if (next.tool !== choice.tool) setCorners([]);
                setChoice(next);
              }}
            />
            <DraftKeys
              assessmentId={id}
              role={role}
              draft={draft}
              paint={choice.paint}
              corners={choice.tool === 'polygon' ? corners : []}
              onCorners={setCorners}
            />
          </>
        ) : null}
        <ZoomKeys viewer={viewer} frame={frame} />
        <DoubtLine surface={surface} hasDoubtful={hasDoubtful} isShown={isDoubtShown} onTurn={setDoubtShown} />
        <ShareTable surface={surface} now={now} isCounting={isCounting} against={targetLine(assessment, role)} />
        <CorrectionLog corrections={corrections.items.filter(({ map }) => map === role)} />
      </div>
    </div>
  );
}

/** Only what is left after the round is graded. */
const targetLine = ({ result, targetGrade }: ZoneAssessment, role: PhotoRole): Grade | null =>
  role === 'before' ? null : (result?.grades.find((line) => isTargetGrade(line, targetGrade)) ?? null);

function DoubtLine({
  surface,
  hasDoubtful,
  isShown,
  onTurn,
}: {
  surface: Surface;
  hasDoubtful: boolean;
  isShown: boolean;
  onTurn: (isShown: boolean) => void;
}): ReactNode {
  const { doubtfulFraction } = surface;
  if (!hasDoubtful || doubtfulFraction === undefined) return <p className="muted">{words.inspect.noSecond}</p>;
  return (
    <div>
      <p>{words.inspect.doubtfulShare(formatShare(doubtfulFraction))}</p>
      <Switch
        isOn={isShown}
        onTurn={() => {
          onTurn(!isShown);
        }}
      >
        <ClassKey marked="doubtful" />
        {words.inspect.doubtful}
      </Switch>
    </div>
  );
}
