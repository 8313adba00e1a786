import type { ReactNode, SVGAttributes } from 'react';

/** A drawing on a 24 x 24 field in the colour of the words beside it, which say what it means. */
export function Glyph({
  size = 24,
  children,
  ...stroke
}: { size?: number; children: ReactNode } & Pick<
  SVGAttributes<SVGSVGElement>,
  'strokeWidth' | 'strokeLinejoin'
>): ReactNode {
  return (
    <svg
      className="icon"
      width={size}
      height={size}
      viewBox="0 0 24 24"
      fill="none"
      stroke="currentColor"
      aria-hidden="true"
      {...stroke}
    >
      {children}
    </svg>
  );
}
