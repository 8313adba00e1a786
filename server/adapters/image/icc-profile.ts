import { ByteCursor } from './byte-cursor.ts';

/** Room for the largest lookup-table profiles of scanners and printers (about 2 MB, common practice). */
export const MOST_ICC_BYTES = 4 * 1024 * 1024;
const HEADER_BYTES = 128;
const TAG_ENTRY_BYTES = 12;
/** The specification sets no bound; profiles in use have 9 to 40 tags (common practice). */
const MOST_TAGS = 200;
/** Source: [ICC.1] profile header: device link, abstract and named-colour profiles do not describe a picture. */
const PICTURE_CLASSES: ReadonlySet<string> = new Set(['scnr', 'mntr', 'prtr', 'spac']);
const CONNECTION_SPACES: ReadonlySet<string> = new Set(['XYZ ', 'Lab ']);
const MATRIX_TAGS = ['rXYZ', 'gXYZ', 'bXYZ', 'rTRC', 'gTRC', 'bTRC'] as const;
/** Codes to connection space, perceptual intent. */
const TABLE_TAG = 'A2B0';

/**
 * Why an RGB photo cannot use this profile, or null. Only the frame is checked here: header and tag table.
 * Source: [ICC.1] section 7
 */
export function findIccObstacle(profile: Uint8Array): string | null {
  if (profile.length < HEADER_BYTES + 4) return `it has only ${profile.length} bytes`;
  if (profile.length > MOST_ICC_BYTES) return `it has ${profile.length} bytes, at most ${MOST_ICC_BYTES} are read`;
  const announced = new ByteCursor(profile).uint32();
  if (announced !== profile.length) return `it announces ${announced} bytes and has ${profile.length}`;
  const textAt = (start: number): string => new ByteCursor(profile, { start }).text();
  if (textAt(36) !== 'acsp') return 'its signature is missing';
  if (!PICTURE_CLASSES.has(textAt(12))) return `its class is "${printable(textAt(12))}"`;
  if (textAt(16) !== 'RGB ') return `it is for "${printable(textAt(16))}" samples, expected RGB`;
  if (!CONNECTION_SPACES.has(textAt(20))) return `its connection space is "${printable(textAt(20))}"`;
  return findTagObstacle(profile);
}

/** Bytes of a tag; empty when the profile has none of that name. */
export function readIccTag(profile: Uint8Array, name: string): Uint8Array {
  const found = listTags(profile).find((tag) => tag.name === name);
  return found === undefined ? new Uint8Array(0) : profile.subarray(found.start, found.start + found.length);
}

/** A profile with a table from its codes to the connection space is defined by it, whatever else it holds. */
export const hasColourTable = (profile: Uint8Array): boolean => listTags(profile).some((tag) => tag.name === TABLE_TAG);

interface Tag {
  readonly name: string;
  readonly start: number;
  readonly length: number;
}

function listTags(profile: Uint8Array): Tag[] {
  const cursor = new ByteCursor(profile, { start: HEADER_BYTES });
  return Array.from({ length: Math.min(cursor.uint32(), MOST_TAGS) }, () => ({
    name: cursor.text(),
    start: cursor.uint32(),
    length: cursor.uint32(),
  }));
}

function findTagObstacle(profile: Uint8Array): string | null {
  const count = new ByteCursor(profile, { start: HEADER_BYTES }).uint32();
  if (count === 0 || count > MOST_TAGS) return `its tag table has ${count} entries`;
  const tableEnd = HEADER_BYTES + 4 + count * TAG_ENTRY_BYTES;
  if (tableEnd > profile.length) return `its tag table of ${count} entries is cut`;
  const tags = listTags(profile);
  const outside = tags.find(({ start, length }) => start < tableEnd || start + length > profile.length);
  if (outside !== undefined) return `its tag "${printable(outside.name)}" lies outside it`;
  const names = new Set(tags.map((tag) => tag.name));
  const isComplete = names.has(TABLE_TAG) || MATRIX_TAGS.every((name) => names.has(name));
  return isComplete ? null : 'it lacks the tags that define its colours';
}

const printable = (text: string): string => text.replaceAll(/[^ -~]/g, '?');
