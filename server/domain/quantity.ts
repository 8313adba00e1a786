import { z } from 'zod';

type Branded<Name extends string> = number & z.core.$brand<Name>;

export interface Quantity<Name extends string> {
  readonly schema: z.ZodType<Branded<Name>, number>;
  readonly of: (value: number) => Branded<Name>;
}

/**
 * Makes one branded physical quantity: a schema that accepts finite numbers in a range, and a constructor for numbers
 * that the program itself computes. No other place casts to a brand.
 *
 * @param name brand, the unit in words ("Millimetres")
 * @param range allowed values: closed at `min` and `max`, open at `above`; an end left out is not limited
 */
export function quantity<Name extends string>(
  name: Name,
  range: { min?: number; above?: number; max?: number } = {},
): Quantity<Name> {
  let schema = z.number();
  if (range.min !== undefined) schema = schema.min(range.min);
  if (range.above !== undefined) schema = schema.gt(range.above);
  if (range.max !== undefined) schema = schema.max(range.max);
  const of = (value: number): Branded<Name> => {
    if (!Number.isFinite(value)) throw new RangeError(`Expected a finite number of ${name} but received ${value}`);
    return value as Branded<Name>;
  };
  return { schema: schema as unknown as Quantity<Name>['schema'], of };
}
