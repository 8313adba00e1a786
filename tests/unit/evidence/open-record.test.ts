import { describe, expect, it } from 'vitest';
import { goldenRecord } from '../../../fixtures/golden-records.ts';
import { RECORD_SCHEMA, faultSentence } from '../../../server/domain/index.ts';
import { openRecord } from '../../../server/evidence/open-record.ts';
import { upgradeDocument } from '../../../server/evidence/upgrade-document.ts';

const json = (): Record<string, unknown> => JSON.parse(goldenRecord('stern-plate').text) as Record<string, unknown>;

describe('opening a record', () => {
  it('refuses a version that is newer than this program, and says so', () => {
    const outcome = openRecord({ ...json(), schema: 'bareplate/record@99' });
    expect(outcome).toEqual({
      ok: false,
      fault: { code: 'record-version-unknown', found: 'bareplate/record@99', newest: RECORD_SCHEMA },
    });
    if (!outcome.ok) expect(faultSentence(outcome.fault)).toContain('newer version');
  });

  it.each([[null], ['text'], [[]], [{}], [undefined]])('refuses what is no record: %j', (given) => {
    expect(openRecord(given)).toMatchObject({ ok: false, fault: { code: 'record-malformed' } });
  });

  it('names the field that is wrong', () => {
    expect(openRecord({ ...json(), zone: { name: '', about: 'x' } })).toMatchObject({ fault: { path: 'zone.name' } });
    expect(openRecord({ ...json(), prepared: null })).toMatchObject({ fault: { path: 'prepared' } });
  });

  it('refuses file names that climb out of the bundle', () => {
    for (const path of ['../record.json', '/etc/passwd', 'photos\\a.jpg', 'photos/../a.jpg', 'con:.txt']) {
      const record = json();
      (record['card'] as { file: { path: string } }).file.path = path;
      expect(openRecord(record)).toMatchObject({ ok: false, fault: { path: 'card.file.path' } });
    }
  });
});

describe('upgrading a document', () => {
  const path = {
    current: 'thing@3',
    steps: [
      { from: 'thing@1', to: 'thing@2', upgrade: (old: object) => ({ ...old, lengthMm: 25.4 }) },
      { from: 'thing@2', to: 'thing@3', upgrade: (old: object) => ({ ...old, name: 'plate' }) },
    ],
  };

  it('goes through every version in turn and leaves the original alone', () => {
    const old = Object.freeze({ schema: 'thing@1' });
    expect(upgradeDocument(old, path)).toEqual({
      ok: true,
      value: { schema: 'thing@3', lengthMm: 25.4, name: 'plate' },
    });
    expect(old).toEqual({ schema: 'thing@1' });
  });

  it('begins at the version found, and leaves the present one as it is', () => {
    expect(upgradeDocument({ schema: 'thing@2' }, path)).toEqual({
      ok: true,
      value: { schema: 'thing@3', name: 'plate' },
    });
    expect(upgradeDocument({ schema: 'thing@3' }, path)).toEqual({ ok: true, value: { schema: 'thing@3' } });
  });
});
