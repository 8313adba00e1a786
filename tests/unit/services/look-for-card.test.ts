import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { CardInPhoto } from '../../../server/domain/api/photos.ts';
import { lookForCard } from '../../../server/services/look-for-card.ts';
import { wireTools } from '../../../server/wiring.ts';
import { smallPhoto } from '../../support/teasel-round.ts';

const tools = wireTools({ segmenter: 'colour' });
const DEMO = fileURLToPath(new URL('../../../fixtures/demo/stern-plate-after.jpg', import.meta.url));

async function look(file: Uint8Array): Promise<CardInPhoto> {
  const outcome = await lookForCard(file, tools);
  if (!outcome.ok) throw new Error(outcome.fault.code);
  return outcome.value;
}

describe('looking for the card before anything is measured', () => {
  it('says where it lies', async () => {
    const photo = await readFile(DEMO);
    const { width, height } = await sharp(photo).metadata();
    const { cornersPx, fault } = await look(photo);
    expect([cornersPx?.length, fault]).toEqual([4, null]);
    for (const [x, y] of cornersPx ?? []) {
      expect(x > 0 && x < width && y > 0 && y < height).toBe(true);
    }
    // One that is cut through is seen, and cannot be used.
    const middle = Math.round((cornersPx ?? []).reduce((sum, [x]) => sum + x, 0) / 4);
    const isLeft = middle < width / 2;
    const half = isLeft
      ? { left: middle, top: 0, width: width - middle, height }
      : { left: 0, top: 0, width: middle, height };
    const cut = await look(await sharp(photo).extract(half).jpeg({ quality: 92 }).toBuffer());
    expect([cut.cornersPx, cut.fault?.code]).toEqual([null, 'card-cropped']);
    expect(cut.fault?.sentence).toMatch(/card/i);
  });

  it('says that there is none', async () => {
    expect(await look(await smallPhoto(1))).toEqual({ cornersPx: null, fault: null });
  });

  it('hands on that a file is no photo', async () => {
    expect(await lookForCard(new TextEncoder().encode('no photo'), tools)).toMatchObject({ ok: false });
  });
});
