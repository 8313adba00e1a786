import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { UseMutationResult } from '@tanstack/react-query';
import { useState } from 'react';
import type { Outline, PhotoRole } from '@domain/api/photos.ts';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { call } from '../../api/call.ts';
import { newId } from '../../api/new-id.ts';

/** Keeps the outline; after the last photo the measuring starts. Answers the address to go on to. */
export function useKeepOutline(round: ZoneRound, role: PhotoRole): UseMutationResult<string, Error, Outline | null> {
  const client = useQueryClient();
  const [assessmentId, setAssessmentId] = useState(newId);
  return useMutation({
    mutationFn: async (outline: Outline | null) => {
      const params = { roundId: round.id };
      await call('moveOutline', { params: { ...params, role }, body: { outline } });
      if (role === 'before') return `/rounds/${round.id}/zone/after`;
      const { id } = await call('startAssessment', { params, body: { id: assessmentId } });
      return `/assessments/${id}/progress`;
    },
    onSuccess: () => {
      setAssessmentId(newId());
      return client.invalidateQueries();
    },
  });
}
