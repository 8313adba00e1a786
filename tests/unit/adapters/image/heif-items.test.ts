import { describe, expect, it } from 'vitest';
import { fixture, type FixtureName } from '../../../../fixtures/index.ts';
import { childBoxes, findBox, listBoxes } from '../../../../server/adapters/image/heif-boxes.ts';
import { readHeifItems, type HeifItems } from '../../../../server/adapters/image/heif-items.ts';

function itemsOf(name: FixtureName): HeifItems {
  const file = fixture(name).read();
  const meta = findBox(listBoxes(file), 'meta');
  const items = meta === null ? null : readHeifItems(file, meta);
  if (items === null) throw new Error(`no items in ${name}`);
  return items;
}

const sized = (size: number, type: string, content: readonly number[] = []): Buffer => {
  const bytes = Buffer.alloc(8);
  bytes.writeUInt32BE(size, 0);
  bytes.write(type, 4, 'latin1');
  return Buffer.concat([bytes, Buffer.from(content)]);
};

describe('listBoxes', () => {
  it('lists boxes side by side with their contents', () => {
    const file = Buffer.concat([sized(10, 'one ', [1, 2]), sized(8, 'two ')]);
    expect(listBoxes(file)).toEqual({
      boxes: [
        { type: 'one ', start: 8, end: 10 },
        { type: 'two ', start: 18, end: 18 },
      ],
      isCut: false,
    });
  });

  it('reads 64-bit sizes and boxes that go on to the end', () => {
    const long = sized(1, 'long', [0, 0, 0, 0, 0, 0, 0, 18, 7, 7]);
    const file = Buffer.concat([long, sized(0, 'rest', [1, 2, 3])]);
    expect(listBoxes(file).boxes).toEqual([
      { type: 'long', start: 16, end: 18 },
      { type: 'rest', start: 26, end: 29 },
    ]);
  });

  it('stops at a box that is longer than the file or shorter than its own head', () => {
    expect(listBoxes(sized(20, 'cut '))).toEqual({ boxes: [], isCut: true });
    expect(listBoxes(sized(4, 'tiny'))).toEqual({ boxes: [], isCut: true });
    expect(listBoxes(Buffer.from([0, 0]))).toEqual({ boxes: [], isCut: true });
  });

  it('finds no children where there is no box', () => {
    expect(childBoxes(Buffer.alloc(0), null)).toEqual({ boxes: [], isCut: false });
  });
});

describe('readHeifItems', () => {
  it('reads the one picture of a plain HEIC with its properties and place', () => {
    const { primaryId, items } = itemsOf('card.heic');
    expect(items.map((item) => [item.id, item.type, item.isHidden])).toEqual([[primaryId, 'hvc1', false]]);
    expect(items[0].properties.map((box) => box.type)).toEqual(expect.arrayContaining(['hvcC', 'ispe']));
    expect(items[0].extents).toHaveLength(1);
  });

  it('reads a grid, its hidden tiles and what refers to what', () => {
    const { primaryId, items, references } = itemsOf('card-grid-turned-p3.heic');
    expect(primaryId).toBe(5);
    expect(items.map((item) => item.type)).toEqual(['hvc1', 'hvc1', 'hvc1', 'hvc1', 'grid', 'Exif']);
    expect(items.filter((item) => item.isHidden)).toHaveLength(4);
    expect(references).toContainEqual({ type: 'dimg', from: 5, to: [1, 2, 3, 4] });
    expect(references).toContainEqual({ type: 'cdsc', from: 6, to: [5] });
    expect(items[4].properties.map((box) => box.type)).toEqual(['ispe', 'colr', 'irot']);
  });

  it('gives places inside the file for every item', () => {
    for (const name of ['card.heic', 'card.avif', 'card-p3.heic', 'card-second-is-main.heic'] as const) {
      const length = fixture(name).read().length;
      for (const item of itemsOf(name).items) {
        for (const extent of item.extents) expect(extent.end).toBeLessThanOrEqual(length);
      }
    }
  });
});
