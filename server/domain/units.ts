import { z } from 'zod';
import { quantity } from './quantity.ts';

const millimetresQuantity = quantity('Millimetres');
const squareMillimetresQuantity = quantity('SquareMillimetres', { min: 0 });
const millimetresPerSecondQuantity = quantity('MillimetresPerSecond');
const hertzQuantity = quantity('Hertz');
const wattsQuantity = quantity('Watts');
const joulesPerSquareCentimetreQuantity = quantity('JoulesPerSquareCentimetre', { min: 0 });
const kelvinQuantity = quantity('KelvinRise');
const secondsQuantity = quantity('Seconds');
const minutesPerSquareMetreQuantity = quantity('MinutesPerSquareMetre', { min: 0 });
const fractionQuantity = quantity('Fraction', { min: 0, max: 1 });
const radiansQuantity = quantity('Radians');
const degreesQuantity = quantity('Degrees');

export type Millimetres = z.infer<typeof millimetresQuantity.schema>;
export type SquareMillimetres = z.infer<typeof squareMillimetresQuantity.schema>;
export type MillimetresPerSecond = z.infer<typeof millimetresPerSecondQuantity.schema>;
export type Hertz = z.infer<typeof hertzQuantity.schema>;
export type Watts = z.infer<typeof wattsQuantity.schema>;
export type JoulesPerSquareCentimetre = z.infer<typeof joulesPerSquareCentimetreQuantity.schema>;
export type KelvinRise = z.infer<typeof kelvinQuantity.schema>;
export type Seconds = z.infer<typeof secondsQuantity.schema>;
export type MinutesPerSquareMetre = z.infer<typeof minutesPerSquareMetreQuantity.schema>;
/** A share, 0..1. Percent exists only in views. */
export type Fraction = z.infer<typeof fractionQuantity.schema>;
/** Angles are radians inside; degrees appear in JSON (key ends in `Degrees`) and in views. */
export type Radians = z.infer<typeof radiansQuantity.schema>;
export type Degrees = z.infer<typeof degreesQuantity.schema>;

export const millimetres = millimetresQuantity.of;
export const squareMillimetres = squareMillimetresQuantity.of;
export const millimetresPerSecond = millimetresPerSecondQuantity.of;
export const hertz = hertzQuantity.of;
export const watts = wattsQuantity.of;
export const joulesPerSquareCentimetre = joulesPerSquareCentimetreQuantity.of;
export const kelvinRise = kelvinQuantity.of;
export const seconds = secondsQuantity.of;
export const minutesPerSquareMetre = minutesPerSquareMetreQuantity.of;
export const fraction = fractionQuantity.of;
export const radians = radiansQuantity.of;
export const degrees = degreesQuantity.of;

export const fractionSchema = fractionQuantity.schema;
export const minutesPerSquareMetreSchema = minutesPerSquareMetreQuantity.schema;
/** Strictly positive schemas for what a person sets on a machine. */
export const positiveWatts = quantity('Watts', { above: 0 }).schema;
export const positiveMillimetres = quantity('Millimetres', { above: 0 }).schema;
export const positiveHertz = quantity('Hertz', { above: 0 }).schema;
export const positiveMillimetresPerSecond = quantity('MillimetresPerSecond', { above: 0 }).schema;

export const radiansFromDegrees = (angle: Degrees): Radians => radians((angle * Math.PI) / 180);
export const degreesFromRadians = (angle: Radians): Degrees => degrees((angle * 180) / Math.PI);
