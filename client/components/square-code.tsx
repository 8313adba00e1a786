import type { ReactNode } from 'react';

/** A QR code that the server drew, dark on white in every theme: cameras want it so. */
export function SquareCode({ svg, alt }: { svg: string; alt: string }): ReactNode {
  return (
    <img
      className="square-code"
      src={`data:image/svg+xml,${encodeURIComponent(svg)}`}
      width="240"
      height="240"
      alt={alt}
    />
  );
}
