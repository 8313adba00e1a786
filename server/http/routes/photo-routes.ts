import type { PHOTO_ENDPOINTS } from '../../domain/api/photo-endpoints.ts';
import { success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { Photos } from '../../services/keep-photos.ts';
import type { FileAnswer, HandledEndpointName, HandlersOf } from '../call.ts';
import { actorOf } from './actor-of.ts';

type Names = Extract<HandledEndpointName, keyof typeof PHOTO_ENDPOINTS>;

export function photoRoutes(photos: Photos): HandlersOf<Names> {
  return {
    addPhoto: ({ body, caller }) => photos.add(body.uploadId, actorOf(caller)),
    readPhoto: ({ params }) => photos.read(params.photoId),
    lookForCard: ({ params }) => photos.lookForCard(params.photoId),
    async readOriginal({ params }) {
      const opening = await photos.original(params.photoId);
      if (!opening.ok) return opening;
      const { photo, file } = opening.value;
      return success({
        mediaType: 'application/octet-stream',
        body: file.stream,
        sizeBytes: file.sizeBytes,
        fileName: photo.fileName,
        isImmutable: true,
      });
    },
    readDisplay: async ({ params }) => jpeg(await photos.picture(params.photoId, 'display')),
    readThumbnail: async ({ params }) => jpeg(await photos.picture(params.photoId, 'thumbnail')),
    readTilePyramid: ({ params }) => photos.pyramid(params.photoId),
    readTile: async ({ params: { photoId, ...place } }) => jpeg(await photos.tile(photoId, place)),
  };
}

/** A photo's pictures never change. */
const jpeg = (making: Outcome<Uint8Array>): Outcome<FileAnswer> =>
  making.ok ? success({ mediaType: 'image/jpeg', body: making.value, isImmutable: true }) : making;
