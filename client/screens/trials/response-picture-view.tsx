import type { ReactNode } from 'react';
import type { TrialPlan, TrialResult } from '@domain/trial.ts';
import { words } from '../../i18n/words.ts';
import { formatNumber } from '../../units/shown-units.ts';

const BOX = { cell: 26, left: 64, bottom: 46, top: 10, right: 12 } as const;
/** Marks on the greys, the same in every theme as the greys themselves. */
const ON_CELLS = { ink: 'black', ground: 'white' } as const;
/** Chance from which a cell counts as meeting the target. */
const RINGED = 0.9;

/** Residue over stroke fluence and areal energy; darker keeps more, so that it reads in grey and to any eye. */
export function ResponsePictureView({ result, plan }: { result: TrialResult; plan: TrialPlan }): ReactNode {
  const { strokeFluenceJPerCm2: fluences, arealEnergyJPerCm2: energies, residueFraction } = result.response;
  const width = BOX.left + energies.length * BOX.cell + BOX.right;
  const height = BOX.top + fluences.length * BOX.cell + BOX.bottom;
  const x = placeOn(energies, (step) => BOX.left + (step + 0.5) * BOX.cell);
  const y = placeOn(fluences, (step) => BOX.top + (fluences.length - step - 0.5) * BOX.cell);
  return (
    <figure className="stack">
      <h3>{words.trials.responseTitle}</h3>
      <svg className="response" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={words.trials.responseAlt}>
        {residueFraction.map((row, f) =>
          row.map((share, e) => (
            <ResponseCell
              key={`${fluences[f]} ${energies[e]}`}
              left={BOX.left + e * BOX.cell}
              top={BOX.top + (fluences.length - f - 1) * BOX.cell}
              share={share}
              meets={result.response.probabilityMeetsTarget[f][e] >= RINGED}
            />
          )),
        )}
        {plan.patches.map((patch) => (
          <text
            key={patch.name}
            x={x(patch.arealEnergyJPerCm2)}
            y={y(patch.strokeFluenceJPerCm2) + 5}
            textAnchor="middle"
            className="response-patch"
            style={{ fill: ON_CELLS.ink, stroke: ON_CELLS.ground }}
          >
            {patch.name}
          </text>
        ))}
        <Axes fluences={fluences} energies={energies} height={height} />
      </svg>
      <figcaption className="muted">{words.trials.responseLead}</figcaption>
    </figure>
  );
}

function Axes({
  fluences,
  energies,
  height,
}: {
  fluences: readonly number[];
  energies: readonly number[];
  height: number;
}): ReactNode {
  return (
    <>
      <Ticks values={energies} every={5}>
        {(value, step) => (
          <text key={value} x={BOX.left + (step + 0.5) * BOX.cell} y={height - BOX.bottom + 18} textAnchor="middle">
            {formatNumber(value, 0)}
          </text>
        )}
      </Ticks>
      <Ticks values={fluences} every={5}>
        {(value, step) => (
          <text
            key={value}
            x={BOX.left - 8}
            y={BOX.top + (fluences.length - step - 0.5) * BOX.cell + 5}
            textAnchor="end"
          >
            {formatNumber(value, 0)}
          </text>
        )}
      </Ticks>
      <text x={BOX.left} y={height - 8}>
        {words.trials.energyAxis}
      </text>
      <text x={14} y={height - BOX.bottom} transform={`rotate(-90 14 ${height - BOX.bottom})`}>
        {words.trials.strokeAxis}
      </text>
    </>
  );
}

/** Neutral grey, light where little is left. */
function ResponseCell(props: { left: number; top: number; share: number; meets: boolean }): ReactNode {
  const { left, top, share, meets } = props;
  const grey = Math.round(236 - 196 * share);
  return (
    <g>
      <rect x={left} y={top} width={BOX.cell} height={BOX.cell} fill={`rgb(${grey} ${grey} ${grey})`} />
      {meets ? (
        <circle
          cx={left + BOX.cell / 2}
          cy={top + BOX.cell / 2}
          r={BOX.cell / 2 - 3}
          className="response-ring"
          stroke={ON_CELLS.ink}
        />
      ) : null}
    </g>
  );
}

function Ticks({
  values,
  every,
  children,
}: {
  values: readonly number[];
  every: number;
  children: (value: number, step: number) => ReactNode;
}): ReactNode {
  return <>{values.map((value, step) => (step % every === 0 ? children(value, step) : null))}</>;
}

/** Place of a value on an axis of equal ratios, kept inside it. */
function placeOn(values: readonly number[], at: (step: number) => number): (value: number) => number {
  const [first, last] = [values[0], values[values.length - 1]];
  return (value) => {
    const step = ((values.length - 1) * Math.log(value / first)) / Math.log(last / first);
    return at(Math.min(values.length - 1, Math.max(0, step)));
  };
}
