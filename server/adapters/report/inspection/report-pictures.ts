import type { Report, ReportPicture } from '../../../evidence/report/report.ts';
import { scaledPicture } from './scaled-picture.ts';
import type { PictureStore, PictureWish, ScaledPicture } from './scaled-picture.ts';

/** Every picture of a report, made before the first page is laid out. */
export interface ReportPictures {
  readonly before: ScaledPicture | null;
  readonly after: ScaledPicture;
  readonly classes: ScaledPicture | null;
  /** Classes as people corrected them. */
  readonly corrected: ScaledPicture | null;
  readonly square: ScaledPicture | null;
  readonly squareClasses: ScaledPicture | null;
  /** In the order of the rounds. */
  readonly rounds: readonly { readonly before: ScaledPicture | null; readonly after: ScaledPicture }[];
}

/** Print resolution of the large pictures and of the small ones, dots per mm (200 and 150 dpi). */
const FINE = 200 / 25.4;
const SMALL = 150 / 25.4;
const LARGE: Pick<PictureWish, 'dotsPerMm' | 'quality' | 'photoLongSidePx'> = {
  dotsPerMm: FINE,
  quality: 84,
  photoLongSidePx: 3200,
};
/** Room for one large picture on a page, and for one of a round's pair. */
export const LARGE_ROOM = { widthMm: 178, heightMm: 112 } as const;
export const SQUARE_ROOM = { widthMm: 76, heightMm: 76 } as const;
export const ROUND_ROOM = { widthMm: 42, heightMm: 32 } as const;

export async function reportPictures(report: Report, store: PictureStore): Promise<ReportPictures> {
  const zone: PictureWish = { ...LARGE, show: 'photo', of: 'zone', room: LARGE_ROOM };
  const square: PictureWish = { ...LARGE, show: 'photo', of: 'worst square', room: SQUARE_ROOM };
  const make = (picture: ReportPicture, wish: PictureWish): Promise<ScaledPicture | null> =>
    scaledPicture(picture, wish, store);
  const small = smallPictures(store);
  const corrected = report.corrected?.picture ?? null;
  const [before, after, classes, correctedClasses, squarePhoto, squareClasses] = await Promise.all([
    report.before === null ? null : make(report.before, zone),
    make(report.after, zone),
    make(report.after, { ...zone, show: 'classes' }),
    corrected === null ? null : make(corrected, { ...zone, show: 'classes' }),
    make(report.after, square),
    make(report.after, { ...square, show: 'classes' }),
  ]);
  const rounds = await Promise.all(
    report.rounds.map(async (round) => ({
      before: round.before === null ? null : await small(round.before),
      after: await small(round.after),
    })),
  );
  const drawn = { before, after: present(after), classes, corrected: correctedClasses };
  return { ...drawn, square: squarePhoto, squareClasses, rounds };
}

/** The photo after one round is often the one before the next: the same photo, seen the same way, is made once. */
function smallPictures(store: PictureStore): (picture: ReportPicture) => Promise<ScaledPicture> {
  const wish: PictureWish = {
    show: 'photo',
    of: 'zone',
    room: ROUND_ROOM,
    dotsPerMm: SMALL,
    quality: 76,
    photoLongSidePx: 600,
  };
  const made = new Map<string, Promise<ScaledPicture>>();
  return (picture) => {
    const name = JSON.stringify([picture.photo.file.sha256, picture.photo.surface]);
    const known = made.get(name) ?? scaledPicture(picture, wish, store).then(present);
    made.set(name, known);
    return known;
  };
}

function present(picture: ScaledPicture | null): ScaledPicture {
  if (picture === null) throw new Error('Expected a picture: every record has its photos');
  return picture;
}
