import type { ClassMap } from '@domain/paint-class-map.ts';

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
  return { width, height, codes };
}
