import { labelCodeSchema } from '@domain/api/zones.ts';

/**
 * The label's code in what was typed or scanned: the code itself, with or without its gap, or the address that holds it.
 * Letters that Crockford's base 32 leaves out are read as the digits they are mistaken for. Source: [CROCKFORD32].
 */
export function labelCodeOf(text: string): string | null {
  const last = text.trim().split('/').at(-1) ?? '';
  const code = last.toUpperCase().replace(/[\s-]/g, '').replace(/O/g, '0').replace(/[IL]/g, '1');
  return labelCodeSchema.safeParse(code).success ? code : null;
}

/** A reader of square codes that some browsers have. */
interface CodeReader {
  detect(source: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]>;
}
type CodeReaderMaker = new (options: { formats: readonly string[] }) => CodeReader;

const readerMaker = (): CodeReaderMaker | undefined =>
  (globalThis as { BarcodeDetector?: CodeReaderMaker }).BarcodeDetector;

/** Needs a browser that reads codes, and a page that may use the camera (TLS, or the same machine). */
export const canScan = (): boolean => readerMaker() !== undefined && 'mediaDevices' in navigator;

export function makeCodeReader(): CodeReader {
  const Maker = readerMaker();
  if (Maker === undefined) throw new Error('Expected a browser that reads codes');
  return new Maker({ formats: ['qr_code'] });
}
