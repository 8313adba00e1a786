import { keepPreviousData, useQuery } from '@tanstack/react-query';
import type { UseQueryResult } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import type { CorrectedSurface, PaintMark } from '@domain/api/corrections.ts';
import type { PhotoRole } from '@domain/api/photos.ts';
import { paintClassMap } from '@domain/paint-class-map.ts';
import type { ClassMap } from '@domain/paint-class-map.ts';
import { call } from '../../api/call.ts';
import type { ProblemError } from '../../api/problem-error.ts';

/** Marks that are painted but not kept yet. */
export interface CorrectionDraft {
  readonly marks: readonly PaintMark[];
  /** The class map as it looks with them. */
  readonly map: ClassMap | undefined;
  /** The shares with them, counted by the server. */
  readonly trial: UseQueryResult<CorrectedSurface, ProblemError>;
  readonly add: (mark: PaintMark) => void;
  readonly undo: () => void;
  readonly clear: () => void;
}

/** @param standing the class map with the corrections that are kept */
export function useCorrectionDraft(
  assessmentId: string,
  map: PhotoRole,
  standing: ClassMap | undefined,
): CorrectionDraft {
  const [marks, setMarks] = useState<readonly PaintMark[]>([]);
  const painted = useMemo(
    () => (standing === undefined ? undefined : paintClassMap(standing, marks)),
    [standing, marks],
  );
  const trial = useQuery<CorrectedSurface, ProblemError>({
    queryKey: ['tryCorrection', assessmentId, map, marks],
    queryFn: ({ signal }) =>
      call('tryCorrection', { params: { assessmentId }, body: { map, marks: [...marks] } }, signal),
    enabled: marks.length > 0,
    placeholderData: keepPreviousData,
    staleTime: Infinity,
  });
  return {
    marks,
    trial,
    map: painted,
    add: (mark) => {
      setMarks((before) => [...before, mark]);
    },
    undo: () => {
      setMarks((before) => before.slice(0, -1));
    },
    clear: () => {
      setMarks([]);
    },
  };
}
