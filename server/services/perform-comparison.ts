import { success, zoneFileSchema } from '../domain/index.ts';
import type { Comparison, Outcome } from '../domain/index.ts';
import type { ComparedSide } from '../domain/api/comparisons.ts';
import { absent } from './absent.ts';
import type { Analyst, OnStage } from './analysis-ports.ts';
import type { Ledger } from './ledger.ts';
import type { ObjectStore } from './object-ports.ts';

export interface PerformComparisonPorts {
  readonly ledger: Pick<Ledger, 'comparisons' | 'photos' | 'shop' | 'cards'>;
  readonly objects: Pick<ObjectStore, 'read'>;
  readonly analyst: Pick<Analyst, 'comparePatches'>;
}

/** Measures the patches of one photo and keeps the comparison. */
export async function performComparison(
  id: string,
  onStage: OnStage,
  ports: PerformComparisonPorts,
): Promise<Outcome<null>> {
  const { ledger, objects, analyst } = ports;
  const [stored, of] = [await ledger.comparisons.find(id), await ledger.comparisons.requestOf(id)];
  if (stored === null || of?.kind !== 'patches') return success(null);
  const photo = await ledger.photos.find(of.photoId);
  if (photo === null) return absent('photo', of.photoId);
  await ledger.comparisons.start(id);
  const { usualCardId } = await ledger.shop.read();
  const patches = of.patches.map(({ name, outline, settings }) => ({
    name,
    zone: zoneFileSchema.parse(outline),
    settings: settings === null ? null : { settings },
  }));
  const cardValues = usualCardId === null ? null : await ledger.cards.valuesTextOf(usualCardId);
  const bytes = await objects.read(photo.sha256);
  const compared = await analyst.comparePatches({ kind: 'patches', photo: bytes, patches, cardValues }, onStage);
  if (!compared.ok) return compared;
  const { pairs, warnings } = compared.value;
  const sides = stored.sides.map((side) => measuredSide(side, compared.value));
  await ledger.comparisons.finish(id, { sides, pairs, warnings });
  return success(null);
}

function measuredSide(side: ComparedSide, { photo, zones }: Comparison): ComparedSide {
  if (!(side.name in zones)) throw new Error(`Expected a measured patch "${side.name}" but the comparison lacks it`);
  const { streaks, minutesPerSquareMetre, ...surface } = zones[side.name];
  return {
    ...side,
    mmPerPixel: photo.card.mmPerPixel,
    minutesPerSquareMetre: minutesPerSquareMetre ?? null,
    surface,
    streaks,
  };
}
