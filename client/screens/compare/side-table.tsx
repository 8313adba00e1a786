import type { ReactNode } from 'react';
import type { ComparedSide } from '@domain/api/comparisons.ts';
import type { Measured } from '@domain/measured.ts';
import { words } from '../../i18n/words.ts';
import { formatColourDifference } from '../../units/format-colour-difference.ts';
import { keptTogether } from '../../units/kept-together.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import type { ShownUnits } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from '../check/shown-setting.ts';

type Cell = readonly [value: string, interval?: string];
const UNKNOWN: Cell = [words.compare.notKnown];

const shareCell = (share: Measured | undefined): Cell =>
  share === undefined ? UNKNOWN : [formatShare(share.value), keptTogether(formatShareInterval(share))];
const plainCell = (measured: Measured | null | undefined, format: (value: number) => string): Cell =>
  measured === null || measured === undefined
    ? UNKNOWN
    : [format(measured.value), `${format(measured.low)} to ${format(measured.high)}`];

/** One row a quantity: its name, and what each side has. */
function rowsOf(units: ShownUnits): readonly (readonly [string, (side: ComparedSide) => Cell])[] {
  return [
    [words.compare.left, ({ surface }) => shareCell(surface?.residue)],
    [words.compare.stain, ({ surface }) => shareCell(surface?.fractions.stain)],
    [words.compare.texture, ({ surface }) => plainCell(surface?.appearance.textureContrast, formatColourDifference)],
    [words.compare.lightness, ({ surface }) => plainCell(surface?.appearance.lightness, (value) => value.toFixed(0))],
    [
      words.compare.heat,
      ({ surface }) => (surface === null ? UNKNOWN : [formatShare(surface.appearance.heatTintFraction)]),
    ],
    [words.compare.streaks, ({ streaks }) => streakCell(streaks, units)],
    [words.compare.work, ({ minutesPerSquareMetre: minutes }) => (minutes === null ? UNKNOWN : [units.rate(minutes)])],
    ...SETTING_KEYS.map(
      (key) =>
        [
          words.settings[key],
          ({ settings }: ComparedSide): Cell =>
            settings === null ? UNKNOWN : [shownSetting(key, settings[key], units).text],
        ] as const,
    ),
  ];
}

function streakCell(streaks: ComparedSide['streaks'], units: ShownUnits): Cell {
  if (streaks === null) return UNKNOWN;
  if (!streaks.found || streaks.kind === null) return [words.compare.noStreaks];
  const kind = words.answer.streakKind[streaks.kind];
  return streaks.pitchMm === null ? [kind] : [kind, units.length(streaks.pitchMm.value)];
}

export function SideTable({ sides }: { sides: readonly ComparedSide[] }): ReactNode {
  const units = useUnits();
  return (
    <section className="stack">
      <h2>{words.compare.table}</h2>
      <div className="table-scroll" tabIndex={0} role="region" aria-label={words.compare.table}>
        <table className="side-table">
          <thead>
            <tr>
              <th scope="col">{words.compare.what}</th>
              {sides.map(({ name }, index) => (
                <th key={name} scope="col">
                  <abbr title={name}>{words.compare.letter(index)}</abbr>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rowsOf(units).map(([word, cellOf]) => (
              <tr key={word}>
                <th scope="row">{word}</th>
                {sides.map((side) => {
                  const [value, interval] = cellOf(side);
                  return (
                    <td key={side.name}>
                      {value}
                      {interval === undefined ? null : (
                        <>
                          <br />
                          <span className="muted small">{interval}</span>
                        </>
                      )}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
