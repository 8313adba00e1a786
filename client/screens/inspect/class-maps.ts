import { useQuery } from '@tanstack/react-query';
import type { UseQueryResult } from '@tanstack/react-query';
import type { PhotoRole } from '@domain/api/photos.ts';
import { OUTSIDE_CODE } from '@domain/paint-class-map.ts';
import type { ClassMap } from '@domain/paint-class-map.ts';
import { urlOf } from '../../api/call.ts';
import { DOUBTFUL_CODE } from '../../viewer/class-look.ts';
import { loadClassMap } from '../../viewer/class-map.ts';

/** The class map with the corrections that are kept; read again whenever something was changed. */
export const useStandingMap = (assessmentId: string, map: PhotoRole): UseQueryResult<ClassMap> =>
  useQuery({
    queryKey: ['standing class map', assessmentId, map],
    queryFn: ({ signal }) => loadClassMap(urlOf('readClassMap', { params: { assessmentId, map } }), signal),
  });

/** Where two segmenters disagree, as a map of its own. */
export const useDoubtfulMap = (assessmentId: string, map: PhotoRole, isWanted: boolean): UseQueryResult<ClassMap> =>
  useQuery({
    queryKey: ['doubtful map', assessmentId, map],
    queryFn: async ({ signal }) => {
      const read = await loadClassMap(urlOf('readDoubtfulMap', { params: { assessmentId, map } }), signal);
      return { ...read, codes: read.codes.map((code) => (code === 1 ? DOUBTFUL_CODE : OUTSIDE_CODE)) };
    },
    enabled: isWanted,
    staleTime: Infinity,
  });
