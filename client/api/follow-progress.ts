import { useEffect, useState } from 'react';
import { useQueryClient } from '@tanstack/react-query';
import type { Progress } from '@domain/api/assessments.ts';

/** What was heard so far: where the work is, and the stages that came before. */
export interface FollowedProgress {
  readonly progress: Progress | null;
  /** Stages in the order they were announced, the current one last. */
  readonly stages: readonly string[];
  readonly hasSignal: boolean;
}

const NOTHING_YET: FollowedProgress = { progress: null, stages: [], hasSignal: true };

/**
 * Listens to the server's events about one analysis until it is done or has failed. The browser itself takes a lost
 * connection up again.
 *
 * @param url address of the event stream; null listens to nothing
 */
export function useProgress(url: string | null): FollowedProgress {
  const [followed, setFollowed] = useState(NOTHING_YET);
  const client = useQueryClient();
  useEffect(() => {
    if (url === null) return undefined;
    setFollowed(NOTHING_YET);
    const source = new EventSource(url);
    source.addEventListener('progress', (event: MessageEvent<string>) => {
      const progress = JSON.parse(event.data) as Progress;
      setFollowed((before) => follow(before, progress));
      if (progress.state === 'done' || progress.state === 'failed') {
        source.close();
        void client.invalidateQueries();
      }
    });
    source.addEventListener('error', () => {
      setFollowed((before) => ({ ...before, hasSignal: false }));
    });
    return () => {
      source.close();
    };
  }, [url, client]);
  return followed;
}

export function follow(before: FollowedProgress, progress: Progress): FollowedProgress {
  const { stage } = progress;
  const isNew = stage !== null && before.stages.at(-1) !== stage;
  return { progress, hasSignal: true, stages: isNew ? [...before.stages, stage] : before.stages };
}
