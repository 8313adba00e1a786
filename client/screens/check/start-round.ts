import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { UseMutationResult } from '@tanstack/react-query';
import { useState } from 'react';
import type { ZoneRound } from '@domain/api/rounds.ts';
import type { JobZone } from '@domain/api/zones.ts';
import type { Settings } from '@domain/settings.ts';
import { call } from '../../api/call.ts';
import { newId } from '../../api/new-id.ts';

interface RoundStart {
  readonly settings: Settings;
  readonly machineId: string;
}

/** Starts the zone's next round; the after photo of the last round becomes its before photo. */
export function useStartRound(zone: JobZone, last: ZoneRound | null): UseMutationResult<ZoneRound, Error, RoundStart> {
  const [id] = useState(newId);
  const client = useQueryClient();
  return useMutation({
    mutationFn: async ({ settings, machineId }: RoundStart) => {
      const cardId = last?.cardId ?? null;
      const round = await call('addRound', {
        params: { zoneId: zone.id },
        body: { id, settings, machineId, cardId },
      });
      if (last?.after === null || last === null) return round;
      const { photo, outline } = last.after;
      return call('attachPhoto', {
        params: { roundId: round.id, role: 'before' },
        body: { source: { photoId: photo.id }, outline },
      });
    },
    onSuccess: () => client.invalidateQueries(),
  });
}
