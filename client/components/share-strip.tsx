import { useId } from 'react';
import type { ReactNode } from 'react';
import type { Measured } from '@domain/measured.ts';
import type { SurfaceClass } from '@domain/surface.ts';
import { ClassPattern } from './class-key.tsx';

const SHOWN = ['rust', 'scale', 'coating', 'stain'] as const satisfies readonly SurfaceClass[];
const WIDTH = 1000;
const HEIGHT = 96;
const BAR = { top: 8, height: 48 } as const;
const RULE_TOP = 66;
const TICKS = Array.from({ length: 21 }, (_, index) => index);

/**
 * The zone as a strip: what remains from the left, bare steel to the right, under it a rule in percent and the interval of
 * the residue. The numbers stand in the table beside it.
 */
export function ShareStrip({
  shares,
  residue,
}: {
  shares: Readonly<Record<SurfaceClass, number>>;
  residue: Measured | null;
}): ReactNode {
  const id = useId();
  let left = 0;
  return (
    <svg className="strip" viewBox={`-2 0 ${WIDTH + 4} ${HEIGHT}`} aria-hidden="true">
      <defs>
        {SHOWN.map((each) => (
          <ClassPattern key={each} id={`${id}${each}`} marked={each} />
        ))}
      </defs>
      <rect x="0" y={BAR.top} width={WIDTH} height={BAR.height} className="strip-bare" />
      {SHOWN.map((each) => {
        const x = left;
        left += shares[each] * WIDTH;
        return (
          <g key={each} transform={`translate(${x} ${BAR.top}) scale(2)`}>
            <rect width={(shares[each] * WIDTH) / 2} height={BAR.height / 2} fill={`url(#${id}${each})`} />
          </g>
        );
      })}
      <rect x="0" y={BAR.top} width={WIDTH} height={BAR.height} className="strip-edge" />
      <path
        d={TICKS.map((tick) => `M${tick * 50} ${RULE_TOP + 8}v${tick % 2 === 0 ? 16 : 9}`).join('')}
        className="strip-rule"
      />
      {residue === null ? null : <Whisker residue={residue} />}
    </svg>
  );
}

function Whisker({ residue: { low, value, high } }: { residue: Measured }): ReactNode {
  const [from, at, to] = [low * WIDTH, value * WIDTH, high * WIDTH];
  return (
    <g className="strip-whisker">
      <path d={`M${from} ${RULE_TOP}H${to}M${from} ${RULE_TOP - 8}v16M${to} ${RULE_TOP - 8}v16`} />
      <path d={`M${at} ${RULE_TOP - 6}l8 12h-16z`} className="strip-needle" />
    </g>
  );
}
