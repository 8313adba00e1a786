import type { DialSteps } from '../domain/api/machines.ts';
import { millimetres } from '../domain/index.ts';
import type { Machine, Millimetres, Settings } from '../domain/index.ts';
import type { Ledger, Tables } from './ledger.ts';
import { mediaTypeOf } from './media-type-of.ts';
import { nowOf } from './moments.ts';
import type { ObjectStore } from './object-ports.ts';
import type { Clock, TokenMaker } from './people-ports.ts';
import type { PhotoDecoder } from './ports.ts';

export interface DemoPhoto {
  readonly fileName: string;
  readonly bytes: Uint8Array;
  readonly polygonMm: [number, number][];
}

interface DemoScene {
  readonly name: string;
  readonly about: string;
  readonly settings: Settings;
  readonly before: DemoPhoto;
  readonly after: DemoPhoto;
}

/** A made-up job with photos that a renderer drew. */
export interface DemoSource {
  read(): Promise<{ readonly machine: Machine; readonly scenes: readonly DemoScene[] }>;
}

export interface DemoPorts {
  readonly ledger: Pick<Ledger, 'shop' | 'jobs' | 'transact'>;
  readonly objects: Pick<ObjectStore, 'put'>;
  readonly decoder: PhotoDecoder;
  readonly demo: DemoSource;
  readonly tokens: TokenMaker;
  readonly clock: Clock;
  readonly programVersion: string;
}

/** What the zones of the demo are asked to reach, and what they are of. */
const ZONES: Readonly<
  Record<string, { name: string; targetGrade: string; surfaceKind: string; thicknessMm: Millimetres }>
> = {
  'stern-plate': {
    name: 'Stern plate',
    targetGrade: 'Sa 2 1/2',
    surfaceKind: 'heavy pitted rust',
    thicknessMm: millimetres(8),
  },
  'rudder-stock': {
    name: 'Plate over the rudder stock',
    targetGrade: 'Sa 2 1/2',
    surfaceKind: 'mill scale',
    thicknessMm: millimetres(12),
  },
};
const DIAL_STEPS: DialSteps = { powerW: 50, scanWidthMm: 5, scanFrequencyHz: 1, travelSpeedMmPerS: 1 };

/** Puts the demo job in place on the first start of a data folder; once removed it stays away. */
export async function offerDemo(ports: DemoPorts): Promise<boolean> {
  const { machine, scenes } = await ports.demo.read();
  const photos = new Map<DemoPhoto, StoredDemoPhoto>();
  for (const photo of scenes.flatMap((scene) => [scene.before, scene.after])) {
    photos.set(photo, await storeDemoPhoto(photo, ports));
  }
  return ports.ledger.transact(async (tables) => {
    if (!(await tables.shop.markOnce('demo-offered'))) return false;
    const { tokens } = ports;
    const made = { createdAt: nowOf(ports.clock), createdBy: null };
    const [jobId, machineId] = [tokens.newId(), tokens.newId()];
    await tables.jobs.add({
      ...made,
      id: jobId,
      name: 'Workboat Teasel, refit',
      customer: 'Boatyard (invented)',
      note: 'Invented: the photographs were drawn by a program. Remove this job whenever you like.',
      isInvented: true,
    });
    await tables.machines.add({
      id: machineId,
      name: 'Demo machine, 2 kW line',
      serialNumber: 'CW-0007 (invented)',
      note: 'Invented, for the demo job.',
      machine,
      dialSteps: DIAL_STEPS,
      isInvented: true,
      createdAt: made.createdAt,
    });
    for (const scene of scenes) await addScene(scene, { jobId, machineId, photos, tables, ports });
    return true;
  });
}

interface StoredDemoPhoto {
  readonly sha256: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

async function storeDemoPhoto({ bytes, fileName }: DemoPhoto, ports: DemoPorts): Promise<StoredDemoPhoto> {
  const decoding = await ports.decoder.decode(bytes);
  if (!decoding.ok) {
    throw new Error(`Expected a readable demo photo but ${fileName} is refused: ${decoding.fault.code}`);
  }
  const { width, height } = decoding.value.raster;
  return { sha256: await ports.objects.put(bytes), widthPx: width, heightPx: height };
}

interface ScenePlace {
  readonly jobId: string;
  readonly machineId: string;
  readonly photos: ReadonlyMap<DemoPhoto, StoredDemoPhoto>;
  readonly tables: Tables;
  readonly ports: DemoPorts;
}

async function addScene(scene: DemoScene, place: ScenePlace): Promise<void> {
  const { tables, jobId, machineId, ports } = place;
  const { tokens, clock, programVersion } = ports;
  const made = { createdAt: nowOf(clock), createdBy: null };
  const [zoneId, roundId, assessmentId] = [tokens.newId(), tokens.newId(), tokens.newId()];
  if (!(scene.name in ZONES)) throw new Error(`Expected a known demo scene but received "${scene.name}"`);
  const zone = ZONES[scene.name];
  const labelCode = tokens.newLabelCode();
  await tables.zones.add({
    ...made,
    ...zone,
    id: zoneId,
    jobId,
    machineId,
    labelCode,
    note: scene.about,
    areaM2: null,
  });
  await tables.rounds.add({
    ...made,
    id: roundId,
    zoneId,
    settings: scene.settings,
    machineId,
    cardId: null,
    scrapeTest: null,
    heatTint: null,
    minutesSpent: null,
    note: '',
  });
  const before = await addDemoPhoto(scene.before, place);
  const after = await addDemoPhoto(scene.after, place);
  const outlines = { before: { polygonMm: scene.before.polygonMm }, after: { polygonMm: scene.after.polygonMm } };
  await tables.rounds.setPhoto(roundId, 'before', { id: before, outline: outlines.before });
  await tables.rounds.setPhoto(roundId, 'after', { id: after, outline: outlines.after });
  await tables.zones.setStanding(zoneId, 'in work');
  await tables.assessments.add({
    id: assessmentId,
    roundId,
    queuedAt: made.createdAt,
    requestedBy: null,
    targetGrade: zone.targetGrade,
    beforePhotoId: before,
    afterPhotoId: after,
    basis: {
      settings: scene.settings,
      machineId,
      cardId: null,
      surfaceKind: zone.surfaceKind,
      thicknessMm: zone.thicknessMm,
      scrapeTest: null,
      outlines,
    },
    programVersion,
  });
  await tables.queue.enqueue('assessment', assessmentId, made.createdAt);
}

async function addDemoPhoto(photo: DemoPhoto, { photos, tables, ports }: ScenePlace): Promise<string> {
  const stored = photos.get(photo);
  if (stored === undefined) throw new Error(`Expected a stored demo photo for ${photo.fileName}`);
  const id = ports.tokens.newId();
  await tables.photos.add({
    ...stored,
    id,
    uploadId: null,
    fileName: photo.fileName,
    mediaType: mediaTypeOf(photo.bytes),
    sizeBytes: photo.bytes.byteLength,
    takenAt: null,
    addedAt: nowOf(ports.clock),
    addedBy: null,
  });
  return id;
}
