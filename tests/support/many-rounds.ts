import { sha256 } from '../../server/adapters/security/sha256.ts';
import type { InspectionRecord, RecordPhoto } from '../../server/domain/index.ts';
import { canonicalJson } from '../../server/evidence/canonical-json.ts';
import { sealText } from '../../server/evidence/seal.ts';
import { TEST_KEY, goldenEvidence, goldenInspection } from './evidence-tools.ts';
import type { GoldenEvidence } from './evidence-tools.ts';

/**
 * The golden record of the stern plate with many rounds: every photo is a file of its own, and the one after a round is the
 * one before the next. A JPEG may be followed by bytes that mean nothing, which makes each file another one.
 */
export function manyRounds(count: number): GoldenEvidence {
  const golden = goldenEvidence('stern-plate');
  const record = goldenInspection('stern-plate');
  const [round] = record.rounds;
  const files = new Map(golden.files);
  const nth = (photo: RecordPhoto, number: number): RecordPhoto => {
    const path = `photos/state-${number}.jpg`;
    const bytes = Buffer.concat([golden.files.get(photo.file.path) ?? Buffer.alloc(0), Buffer.from(`state ${number}`)]);
    files.set(path, bytes);
    return { ...photo, file: { path, sha256: sha256(bytes) } };
  };
  const states = Array.from({ length: count + 1 }, (_state, number) =>
    nth(number === 0 && round.before !== null ? round.before : round.after, number),
  );
  const rounds = Array.from({ length: count }, (_round, at) => ({
    ...round,
    number: at + 1,
    before: states[at],
    after: states[at + 1],
  }));
  const long: InspectionRecord = { ...record, rounds };
  return { sealed: sealText(canonicalJson(long), { key: TEST_KEY, sha256 }), files };
}
