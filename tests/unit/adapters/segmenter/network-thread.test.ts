import { describe, expect, it } from 'vitest';
import { roomLength, startNetworkThread } from '../../../../server/adapters/segmenter/network-thread.ts';
import type { TileTask } from '../../../../server/adapters/segmenter/network-thread.ts';

const task = (): TileTask => ({
  room: new Float32Array(roomLength(32 * 32)),
  width: 32,
  height: 32,
  condition: Float32Array.of(0, 0),
});

describe('the thread of a network', () => {
  it('refuses what waits and all that comes later once its model cannot be read', async () => {
    let failures = 0;
    const thread = startNetworkThread(Uint8Array.of(1, 2, 3), () => failures++);
    const refused = await Promise.allSettled([thread.tell(task()), thread.tell(task())]);
    expect(refused.map(({ status }) => status)).toEqual(['rejected', 'rejected']);
    await expect(thread.tell(task())).rejects.toThrow();
    expect(failures).toBe(1);
  });
});
