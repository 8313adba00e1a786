import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { UseMutationResult } from '@tanstack/react-query';
import { useNavigate } from 'react-router';
import type { ZonePatch } from '@domain/api/test-patches.ts';
import type { JobZone } from '@domain/api/zones.ts';
import { call } from '../../api/call.ts';
import type { Sent } from '../../api/call.ts';

/** Enters what a patch showed, and leads on to the advice that counts it. */
export function useEnterPatch({ id, latest }: JobZone): UseMutationResult<ZonePatch, Error, Sent<'addTestPatch'>> {
  const client = useQueryClient();
  const navigate = useNavigate();
  return useMutation({
    mutationFn: (sent: Sent<'addTestPatch'>) => call('addTestPatch', sent),
    onSuccess: async () => {
      await client.invalidateQueries();
      await navigate(latest === null ? `/zones/${id}/check` : `/assessments/${latest.id}`, { replace: true });
    },
  });
}
