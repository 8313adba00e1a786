import { describe, expect, it } from 'vitest';
import type { InspectionRecord, PhotoTime } from '../../../../server/domain/index.ts';
import { describePhotoTime } from '../../../../server/evidence/report/describe-photo-time.ts';
import { photoOrderWarnings } from '../../../../server/evidence/report/photo-order-warnings.ts';
import { goldenInspection } from '../../../support/evidence-tools.ts';

const time = (localTime: string, utcOffset: string | null = null): PhotoTime => ({ localTime, utcOffset });
const receivedAt = '2026-11-24T10:28:40Z';

describe('the time of a photo in words', () => {
  it('says by whose clock, and that no offset was given', () => {
    expect(describePhotoTime({ takenAt: time('2026-11-24T11:26:03', '+01:00'), receivedAt })).toEqual([
      'taken 24 Nov 2026, 11:26 by the phone’s clock (UTC+01:00)',
      'received 24 Nov 2026, 10:28 UTC',
    ]);
    expect(describePhotoTime({ takenAt: time('2026-11-24T11:26:03'), receivedAt })[0]).toContain(
      'offset from UTC not stated',
    );
    expect(describePhotoTime({ takenAt: null, receivedAt: null })).toEqual([
      'when it was taken is not known from the file',
    ]);
  });

  it('doubts a phone whose clock was ahead of the arrival of its photo', () => {
    const said = (localTime: string): string =>
      describePhotoTime({ takenAt: time(localTime, '+00:00'), receivedAt }).join(' ');
    expect(said('2026-11-24T10:37:00')).not.toContain('doubt');
    expect(said('2026-11-24T10:39:00')).toContain('doubt its time');
    // Without an offset the phone may be in another zone: nothing can be said.
    expect(describePhotoTime({ takenAt: time('2026-11-24T20:00:00'), receivedAt }).join(' ')).not.toContain('doubt');
  });
});

describe('the order of a round’s photos', () => {
  const record = goldenInspection('stern-plate', 3);
  const warnings = (before: PhotoTime | null, after: PhotoTime | null): string[] => {
    const [round] = record.rounds;
    if (round.before === null) throw new Error('Expected a photo before the round');
    const turned = {
      ...round,
      before: { ...round.before, takenAt: before },
      after: { ...round.after, takenAt: after },
    };
    const changed: InspectionRecord = { ...record, rounds: [turned] };
    return photoOrderWarnings(changed);
  };

  it('is warned of when the clocks say that the after photo came first', () => {
    expect(warnings(time('2026-11-24T10:26:00'), time('2026-11-24T10:05:00'))[0]).toContain('after round 1');
    expect(warnings(time('2026-11-24T10:05:00'), time('2026-11-24T10:26:00'))).toEqual([]);
    expect(warnings(time('2026-11-24T10:05:00'), null)).toEqual([]);
  });

  it('is judged in one zone where both phones state theirs, and by one clock where one does not', () => {
    // 11:05 at +01:00 is 10:05 UTC, before 10:26 UTC.
    expect(warnings(time('2026-11-24T11:05:00', '+01:00'), time('2026-11-24T10:26:00', '+00:00'))).toEqual([]);
    expect(warnings(time('2026-11-24T10:26:00', '+00:00'), time('2026-11-24T11:05:00', '+01:00'))).toHaveLength(1);
    expect(warnings(time('2026-11-24T11:05:00', '+01:00'), time('2026-11-24T11:26:00'))).toEqual([]);
  });
});
