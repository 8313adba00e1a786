import { afterEach, describe, expect, it, vi } from 'vitest';
import { call, urlOf } from '../../../../client/api/call.ts';
import { newId } from '../../../../client/api/new-id.ts';
import { isWorthRetrying, ProblemError } from '../../../../client/api/problem-error.ts';
import { uploadIdOf } from '../../../../client/api/upload-photo.ts';
import { follow } from '../../../../client/api/follow-progress.ts';
import { idSchema } from '../../../../server/domain/api/identifiers.ts';
import { fraction } from '../../../../server/domain/index.ts';

afterEach(() => {
  vi.unstubAllGlobals();
});
const answerWith = (body: unknown, status = 200): void => {
  vi.stubGlobal('fetch', () => Promise.resolve(new Response(JSON.stringify(body), { status })));
};
const reasonOf = async (calling: Promise<unknown>): Promise<ProblemError> => {
  const reason: unknown = await calling.then(
    () => null,
    (error: unknown) => error,
  );
  if (!(reason instanceof ProblemError)) throw new Error('Expected a problem');
  return reason;
};

describe('call', () => {
  it('fills parameters and query into the address of the table', () => {
    const zoneId = newId();
    expect(urlOf('listRounds', { params: { zoneId }, query: { sort: '-number', limit: 1 } })).toBe(
      `/api/zones/${zoneId}/rounds?sort=-number&limit=1`,
    );
    expect(urlOf('listZones', { query: { q: undefined } })).toBe('/api/zones');
  });

  it('throws the sentence of a problem', async () => {
    answerWith({ code: 'not-found', detail: 'The zone is not there.', status: 404, correlationId: 'c' }, 404);
    const problem = await reasonOf(call('readShop', {}));
    expect([problem.message, problem.code, problem.status]).toEqual(['The zone is not there.', 'not-found', 404]);
    expect(isWorthRetrying(problem)).toBe(false);
  });

  it('says so when nobody answers, and finds that worth another try', async () => {
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('network')));
    const problem = await reasonOf(call('readShop', {}));
    expect(problem.code).toBe('no-signal');
    expect(isWorthRetrying(problem)).toBe(true);
  });

  it('does not trip over a page of a proxy', async () => {
    vi.stubGlobal('fetch', () => Promise.resolve(new Response('<html>bad gateway</html>', { status: 502 })));
    const problem = await reasonOf(call('readShop', {}));
    expect([problem.code, problem.status]).toEqual(['unknown', 502]);
  });
});

describe('ids made on the phone', () => {
  it('are UUIDs of version 4 that the server takes', () => {
    // RFC 9562, section 5.4: version 4, variant 10.
    for (let i = 0; i < 50; i++) {
      const id = newId();
      expect(idSchema.safeParse(id).success).toBe(true);
      expect(id).toMatch(/^.{14}4.{4}[89ab]/);
    }
  });

  it('of an upload are the last part of its address', () => {
    expect(uploadIdOf('http://shop.example/api/uploads/0123abcd?x=1')).toBe('0123abcd');
  });
});

describe('followed progress', () => {
  const progress = { state: 'running', fractionDone: fraction(0.1), waitingBefore: 0, fault: null } as const;

  it('lists each stage once, in the order heard', () => {
    let followed = follow(
      { progress: null, stages: [], hasSignal: false },
      { ...progress, stage: 'opening the photos' },
    );
    followed = follow(followed, { ...progress, stage: 'opening the photos' });
    followed = follow(followed, { ...progress, stage: 'measuring' });
    followed = follow(followed, { ...progress, state: 'done', stage: null });
    expect(followed.stages).toEqual(['opening the photos', 'measuring']);
    expect(followed.hasSignal).toBe(true);
  });
});
