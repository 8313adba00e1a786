import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { ReactNode } from 'react';
import type { ZoneAssessment } from '@domain/api/assessments.ts';
import { urlOf } from '../api/call.ts';
import { ClassCanvas } from './class-canvas.tsx';
import { loadClassMap } from './class-map.ts';
import { MarkLayer } from './mark-layer.tsx';
import type { PhotoMarks } from './mark-layer.tsx';
import { MeasureTool } from './measure-tool.tsx';
import type { PaneView } from './photo-pane.tsx';
import { linesInPhoto, worstInPhoto } from './picture-frame.ts';
import type { PictureFrame } from './picture-frame.ts';
import { ScaleBar } from './scale-bar.tsx';
import type { ViewerChoices } from './viewer-choices.ts';

interface LayersProps {
  readonly assessment: ZoneAssessment;
  readonly frame: PictureFrame;
  readonly view: PaneView;
  readonly choices: ViewerChoices;
}

/** What lies over the after photo: classes, marks, scale bar, measure. */
export function AfterLayers({ assessment, frame, view, choices }: LayersProps): ReactNode {
  const map = useQuery({
    queryKey: ['class map', assessment.id, assessment.isCorrected, assessment.corrected.after],
    queryFn: ({ signal }) =>
      loadClassMap(urlOf('readClassMap', { params: { assessmentId: assessment.id, map: 'after' } }), signal),
    staleTime: Infinity,
  });
  const marks = useMarks(assessment, frame, choices);
  const photoPxPerPixel = assessment.classMaps.after?.photoPxPerPixel ?? 1;
  const scaleSigma = assessment.result?.photos.after.card.mmPerPixelRelativeSigma ?? 0;
  return (
    <>
      {map.data === undefined ? null : (
        <ClassCanvas
          map={map.data}
          photoPxPerPixel={photoPxPerPixel}
          view={view}
          shown={choices.shown}
          opacity={choices.opacity}
        />
      )}
      <MarkLayer view={view} marks={marks} />
      {frame.toMm === null ? null : <ScaleBar view={view} toMm={frame.toMm} />}
      {choices.isMeasuring && frame.toMm !== null ? (
        <MeasureTool view={view} toMm={frame.toMm} scaleSigma={scaleSigma} />
      ) : null}
    </>
  );
}

function useMarks(assessment: ZoneAssessment, frame: PictureFrame, choices: ViewerChoices): PhotoMarks {
  const { hasOutline, hasWorst, hasStreaks } = choices;
  return useMemo(() => {
    const corrected = assessment.corrected.after?.decided;
    const worst = (corrected ?? assessment.result?.after)?.worstUnitArea ?? null;
    return {
      zone: hasOutline ? frame.zonePx : null,
      worst: hasWorst && worst !== null ? worstInPhoto(frame, worst) : null,
      streaks: hasStreaks ? linesInPhoto(assessment) : [],
    };
  }, [assessment, frame, hasOutline, hasWorst, hasStreaks]);
}
