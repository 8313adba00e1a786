/** Class codes of a photo: 0 not measured, 1..5 the classes, 255 outside the zone. */
export interface ClassMap {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly codes: Uint8Array;
}

export const OUTSIDE_CODE = 255;

/** Reads the grey picture that holds the codes, without any colour treatment. */
export async function loadClassMap(url: string, signal: AbortSignal): Promise<ClassMap> {
  const response = await fetch(url, { signal, credentials: 'same-origin' });
  if (!response.ok) throw new Error(`Expected a class map but received status ${response.status}`);
  const picture = await createImageBitmap(await response.blob(), {
    colorSpaceConversion: 'none',
    premultiplyAlpha: 'none',
  });
  const { width, height } = picture;
  const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  if (context === null) throw new Error('Expected a drawing context');
  context.drawImage(picture, 0, 0);
  picture.close();
  const { data } = context.getImageData(0, 0, width, height);
  const codes = new Uint8Array(width * height);
  for (let index = 0; index < codes.length; index++) codes[index] = data[4 * index];
  return { widthPx: width, heightPx: height, codes };
}
