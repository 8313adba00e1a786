import type { z } from 'zod';
import type { attachPhotoSchema, CardInPhoto, PhotoRole, StoredPhoto, TilePyramid } from '../domain/api/photos.ts';
import { MOST_UPLOAD_MIB } from '../domain/api/photos.ts';
import type { ZoneRound } from '../domain/api/rounds.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { absent } from './absent.ts';
import type { Analyst } from './analysis-ports.ts';
import type { Rounds } from './keep-rounds.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { ObjectStore, PhotoPictures, PictureSize, UploadDesk } from './object-ports.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import type { DecodedPhoto, PhotoDecoder } from './ports.ts';
import { mediaTypeOf } from './media-type-of.ts';
import { TILE_SIZE_PX, tileLevels } from './tile-levels.ts';

export interface PhotoPorts {
  readonly ledger: Pick<Ledger, 'photos'>;
  readonly objects: Pick<ObjectStore, 'put' | 'open' | 'read'>;
  readonly analyst: Pick<Analyst, 'lookForCard'>;
  readonly uploads: Pick<UploadDesk, 'look' | 'remove'>;
  readonly decoder: PhotoDecoder;
  readonly pictures: Pick<PhotoPictures, 'picture' | 'tile' | 'prepare'>;
  readonly rounds: Pick<Rounds, 'read' | 'setPhoto'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
  /** Keeps many large photos from being decoded at once. */
  readonly oneOfFew: <T>(work: () => Promise<T>) => Promise<T>;
}

export interface Photos {
  read(id: string): Promise<Outcome<StoredPhoto>>;
  add(uploadId: string, actor: Actor): Promise<Outcome<StoredPhoto>>;
  attach(
    place: { roundId: string; role: PhotoRole },
    body: z.output<typeof attachPhotoSchema>,
    actor: Actor,
  ): Promise<Outcome<ZoneRound>>;
  lookForCard(id: string): Promise<Outcome<CardInPhoto>>;
  original(
    id: string,
  ): Promise<Outcome<{ photo: StoredPhoto; file: NonNullable<Awaited<ReturnType<ObjectStore['open']>>> }>>;
  picture(id: string, size: PictureSize): Promise<Outcome<Uint8Array>>;
  pyramid(id: string): Promise<Outcome<TilePyramid>>;
  tile(id: string, place: { level: number; column: number; row: number }): Promise<Outcome<Uint8Array>>;
}

export function keepPhotos(ports: PhotoPorts): Photos {
  const { ledger, objects, pictures } = ports;
  const read = async (id: string): Promise<Outcome<StoredPhoto>> => {
    const photo = await ledger.photos.find(id);
    return photo === null ? absent('photo', id) : success(photo);
  };
  return {
    read,
    add: (uploadId, actor) => addPhoto(uploadId, actor, ports),
    async attach({ roundId, role }, { source, outline }, actor) {
      const round = await ports.rounds.read(roundId);
      if (!round.ok) return round;
      const photo = 'uploadId' in source ? await addPhoto(source.uploadId, actor, ports) : await read(source.photoId);
      return photo.ok ? ports.rounds.setPhoto(roundId, role, { id: photo.value.id, outline }) : photo;
    },
    lookForCard: looksForCard(read, ports),
    async original(id) {
      const reading = await read(id);
      if (!reading.ok) return reading;
      const file = await objects.open(reading.value.sha256);
      return file === null ? absent('file of photo', id) : success({ photo: reading.value, file });
    },
    async picture(id, size) {
      const reading = await read(id);
      if (!reading.ok) return reading;
      return success(await ports.oneOfFew(() => pictures.picture(reading.value.sha256, size)));
    },
    async pyramid(id) {
      const reading = await read(id);
      if (!reading.ok) return reading;
      const { widthPx, heightPx } = reading.value;
      const levels = tileLevels(widthPx, heightPx).length;
      return success({ widthPx, heightPx, tileSizePx: TILE_SIZE_PX, overlapPx: 0, levels });
    },
    async tile(id, place) {
      const reading = await read(id);
      if (!reading.ok) return reading;
      const tile = await pictures.tile(reading.value.sha256, place);
      return tile === null ? absent('tile', `${place.level}/${place.column}/${place.row}`) : success(tile);
    },
  };
}

/** Looks that are remembered; a few numbers each. */
const MOST_LOOKS = 1000;

/** Looks once for each photo: screens ask again whenever something has changed, and a photo never does. */
function looksForCard(read: Photos['read'], { objects, analyst }: PhotoPorts): Photos['lookForCard'] {
  const looks = new Map<string, ReturnType<Photos['lookForCard']>>();
  const look: Photos['lookForCard'] = async (id) => {
    let isFound = false;
    try {
      const reading = await read(id);
      if (!reading.ok) return reading;
      const found = await analyst.lookForCard({ kind: 'card', photo: await objects.read(reading.value.sha256) });
      isFound = found.ok;
      return found;
    } finally {
      if (!isFound) looks.delete(id);
    }
  };
  return (id) => {
    const known = looks.get(id);
    if (known !== undefined) return known;
    if (looks.size >= MOST_LOOKS) looks.clear();
    const found = look(id);
    looks.set(id, found);
    return found;
  };
}

/** Uploads of bundles may be larger than a photo ever is. */
const MOST_PHOTO_BYTES = MOST_UPLOAD_MIB * 1024 * 1024;

/**
 * Takes a finished upload as a photo, once however often it is asked. The photo is decoded whole, so that what is stored
 * can be read; the file is on the disk before its row, the row before the answer, and the upload goes last.
 */
async function addPhoto(uploadId: string, actor: Actor, ports: PhotoPorts): Promise<Outcome<StoredPhoto>> {
  const known = await ports.ledger.photos.findByUpload(uploadId);
  if (known !== null) return success(known);
  const look = await ports.uploads.look(uploadId, actor.id);
  switch (look.state) {
    case 'unknown':
      return absent('upload', uploadId);
    case 'arriving':
      return failure({ code: 'upload-unfinished', receivedBytes: look.receivedBytes, totalBytes: look.totalBytes });
    case 'finished':
      if (look.sizeBytes > MOST_PHOTO_BYTES) return failure({ code: 'body-too-large', mostBytes: MOST_PHOTO_BYTES });
      return ports.oneOfFew(async () => {
        const { fileName, bytes } = await look.read();
        const decoding = await ports.decoder.decode(bytes);
        if (!decoding.ok) return decoding;
        return storePhoto({ uploadId, fileName, bytes, decoded: decoding.value }, actor, ports);
      });
  }
}

async function storePhoto(
  {
    uploadId,
    fileName,
    bytes,
    decoded,
  }: { uploadId: string; fileName: string; bytes: Uint8Array; decoded: DecodedPhoto },
  actor: Actor,
  ports: PhotoPorts,
): Promise<Outcome<StoredPhoto>> {
  const sha256 = await ports.objects.put(bytes);
  await ports.pictures.prepare(sha256, decoded.raster);
  await ports.ledger.photos.add({
    id: ports.tokens.newId(),
    uploadId,
    sha256,
    fileName,
    mediaType: mediaTypeOf(bytes),
    sizeBytes: bytes.byteLength,
    widthPx: decoded.raster.width,
    heightPx: decoded.raster.height,
    takenAt: decoded.takenAt,
    addedAt: nowOf(ports.clock),
    addedBy: actor.id,
  });
  await ports.uploads.remove(uploadId);
  const photo = await ports.ledger.photos.findByUpload(uploadId);
  return photo === null ? absent('upload', uploadId) : success(photo);
}
