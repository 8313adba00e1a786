import { useNavigate } from 'react-router';
import type { TestPatch } from '@domain/advice.ts';
import type { Settings } from '@domain/settings.ts';

/** What travels to the screen of a test patch with the link: the proposed patch, or only where its dials begin. */
export interface PatchState {
  readonly patch?: TestPatch;
  readonly settings?: Settings;
}

export function useOpenPatch(zoneId: string): (state: PatchState) => void {
  const navigate = useNavigate();
  return (state) => {
    void navigate(`/zones/${zoneId}/patch`, { state });
  };
}
