import { z } from 'zod';

export const MOST_PAGE_ITEMS = 100;
const USUAL_PAGE_ITEMS = 25;

/** Yes, no, or both: how lists leave out what is put away. */
const whichSchema = z.enum(['yes', 'no', 'all']);
export const putAwayFilter = whichSchema.default('no').meta({ description: 'show what is put away' });

export interface PageQuery<Key extends string> {
  readonly q?: string | undefined;
  readonly sort: Key | `-${Key}`;
  readonly limit: number;
  readonly cursor?: string | undefined;
}

/**
 * The part of a list's query that all lists share. A page is found again by a cursor (opaque, from the page before), so
 * that the thousandth page costs what the first one does; it holds for the same sort and search only.
 *
 * @param keys what the list can be sorted by; a minus sign before a key turns the order round
 * @param usual the order when none is asked for
 */
export const pageQuery = <Key extends string>(
  keys: readonly [Key, ...Key[]],
  usual: Key | `-${Key}`,
): z.ZodObject<{
  q: z.ZodOptional<z.ZodString>;
  sort: z.ZodDefault<z.ZodEnum<{ [K in Key | `-${Key}`]: K }>>;
  limit: z.ZodDefault<z.ZodCoercedNumber<number>>;
  cursor: z.ZodOptional<z.ZodString>;
}> => {
  const orders = keys.flatMap((key) => [key, `-${key}` as const]);
  const order = z.enum(Object.fromEntries(orders.map((o) => [o, o])) as { [K in Key | `-${Key}`]: K });
  return z.object({
    q: z.string().trim().max(100).optional().meta({ description: 'words that must all occur in the names' }),
    sort: order.default(usual as never),
    limit: z.coerce.number<number>().int().min(1).max(MOST_PAGE_ITEMS).default(USUAL_PAGE_ITEMS),
    cursor: z
      .string()
      .max(600)
      .regex(/^[\w-]+$/)
      .optional(),
  });
};

export interface Page<Item> {
  readonly items: Item[];
  readonly nextCursor: string | null;
}

/** A page of a list; `nextCursor` is null on the last one. */
export const pageOf = <Item extends z.ZodType>(
  item: Item,
): z.ZodObject<{ items: z.ZodArray<Item>; nextCursor: z.ZodNullable<z.ZodString> }> =>
  z.object({ items: z.array(item), nextCursor: z.string().nullable() });
