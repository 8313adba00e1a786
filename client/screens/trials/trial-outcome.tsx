import type { ReactNode } from 'react';
import type { TrialPlan, TrialResult } from '@domain/trial.ts';
import { words } from '../../i18n/words.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { PredictedSetting } from '../answer/predicted-setting.tsx';
import { AdoptSetting } from './adopt-setting.tsx';
import { ResponsePictureView } from './response-picture-view.tsx';

export function TrialOutcome({ result, plan }: { result: TrialResult; plan: TrialPlan }): ReactNode {
  const units = useUnits();
  return (
    <section className="stack">
      <h2>{words.trials.result}</h2>
      <p>{sentenceInUnits(result.because, units)}</p>
      {result.fastest === null ? null : <Fastest fastest={result.fastest} />}
      <ResponsePictureView result={result} plan={plan} />
      <ReadingTable result={result} />
      <p className="muted small">{words.planned.predicted}</p>
    </section>
  );
}

function Fastest({ fastest }: { fastest: NonNullable<TrialResult['fastest']> }): ReactNode {
  return (
    <div className="plate stack">
      <h3>{words.trials.quickest}</h3>
      <PredictedSetting outlook={fastest} last={null} />
      <AdoptSetting settings={fastest.settings} />
    </div>
  );
}

function ReadingTable({ result }: { result: TrialResult }): ReactNode {
  return (
    <div className="table-scroll" role="region" aria-label={words.trials.result} tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.trials.patch}</th>
            <th scope="col">{words.trials.left}</th>
            <th scope="col">{words.trials.fitted}</th>
          </tr>
        </thead>
        <tbody>
          {result.patches.map(({ name, residue, fitted, isOdd }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>
                {formatShare(residue.value)} <span className="muted">({formatShareInterval(residue)})</span>
              </td>
              <td>
                {formatShare(fitted.value)} <span className="muted">({formatShareInterval(fitted)})</span>
                {isOdd ? <strong> {words.trials.odd}</strong> : null}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
