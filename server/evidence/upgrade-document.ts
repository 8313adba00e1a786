import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';

type Document = Readonly<Record<string, unknown>>;

/** Brings a document from the version before to the version named in `to`. */
export interface UpgradeStep {
  readonly from: string;
  readonly to: string;
  readonly upgrade: (old: Document) => Document;
}

export interface UpgradePath {
  /** Name and version of the present form, e.g. "bareplate/record@1". */
  readonly current: string;
  /** Oldest first; each begins where the one before ends. */
  readonly steps: readonly UpgradeStep[];
}

/** Takes a document of a known older version to the present one, step by step. */
export function upgradeDocument(json: unknown, { current, steps }: UpgradePath): Outcome<Document> {
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    return failure({ code: 'record-malformed', path: '', detail: 'is not a JSON object' });
  }
  let document = json as Document;
  if (typeof document['schema'] !== 'string') {
    return failure({ code: 'record-malformed', path: 'schema', detail: 'is missing' });
  }
  for (const step of steps) {
    if (document['schema'] === step.from) document = { ...step.upgrade(document), schema: step.to };
  }
  if (document['schema'] === current) return success(document);
  return failure({ code: 'record-version-unknown', found: String(document['schema']), newest: current });
}
