import type { ReactNode } from 'react';
import { useNavigate, useParams } from 'react-router';
import type { ShopTrial } from '@domain/api/trials.ts';
import { urlOf } from '../../api/call.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { FileLink } from '../../components/button.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { RemoveKey } from '../../components/remove-key.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/planning.css';
import { formatNumber, formatShare } from '../../units/shown-units.ts';
import { keptTogether } from '../../units/kept-together.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from '../check/shown-setting.ts';
import { CouponDrawing } from './coupon-drawing.tsx';
import { TrialPhoto } from './trial-photo.tsx';
import { TrialOutcome } from './trial-outcome.tsx';

const ABOVE = { to: '/trials', word: words.trials.title };

export function TrialScreen(): ReactNode {
  const { trialId = '' } = useParams();
  const trial = useAnswer('readTrial', { params: { trialId } });
  const units = useUnits();
  if (trial.data === undefined) return <NotHereYet reading={trial} />;
  const { name, plan, result } = trial.data;
  const lead = sentenceInUnits(plan.because, units);
  return (
    <Page title={name} above={ABOVE} lead={lead} isWide>
      {result === null ? null : <TrialOutcome result={result} plan={plan} />}
      <TrialPhoto trial={trial.data} />
      <PlanSection trial={trial.data} />
      <RemoveTrial trial={trial.data} />
    </Page>
  );
}

function PlanSection({ trial: { id, plan } }: { trial: ShopTrial }): ReactNode {
  const shop = useAnswer('readShop', {});
  const units = useUnits();
  const sheet = urlOf('readTrialSheet', { params: { trialId: id }, query: { paper: shop.data?.paper ?? 'a4' } });
  return (
    <section className="stack">
      <h2>{words.trials.plan}</h2>
      <FileLink href={sheet} isDownload icon="print">
        {words.trials.sheet}
      </FileLink>
      <CouponDrawing plan={plan} />
      <PatchTable plan={plan} />
      <Notice kind="caution">
        <ul className="points">
          {[...plan.cautions, ...words.round.cautions].map((caution) => (
            <li key={caution}>{sentenceInUnits(caution, units)}</li>
          ))}
        </ul>
      </Notice>
    </section>
  );
}

function PatchTable({ plan }: { plan: ShopTrial['plan'] }): ReactNode {
  const units = useUnits();
  const inOrder = plan.patches.toSorted((a, b) => a.runOrder - b.runOrder);
  return (
    <div className="table-scroll" role="region" aria-label={words.trials.plan} tabIndex={0}>
      <table className="patch-table card-table">
        <thead>
          <tr>
            {[
              words.trials.order,
              words.trials.patch,
              words.trials.setting,
              words.trials.stroke,
              words.trials.energy,
              words.trials.expected,
            ].map((title) => (
              <th key={title} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {inOrder.map((patch) => (
            <tr key={patch.name}>
              <td data-title={words.trials.order}>{patch.runOrder}</td>
              <th scope="row">{patch.name}</th>
              <td data-title={words.trials.setting}>
                {keptTogether(SETTING_KEYS.map((key) => shownSetting(key, patch.settings[key], units).text).join(', '))}
              </td>
              <td data-title={words.trials.stroke}>{formatNumber(patch.strokeFluenceJPerCm2, 1)} J/cm²</td>
              <td data-title={words.trials.energy}>{formatNumber(patch.arealEnergyJPerCm2, 0)} J/cm²</td>
              <td data-title={words.trials.expected}>{formatShare(patch.predicted.value)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function RemoveTrial({ trial: { id, name } }: { trial: ShopTrial }): ReactNode {
  const remove = useChange('removeTrial');
  const navigate = useNavigate();
  if (!useMayCall('removeTrial')) return null;
  return (
    <div className="actions">
      <RemoveKey
        word={words.trials.remove}
        title={words.trials.removeTitle(name)}
        hint={words.trials.removeHint}
        go={words.trials.removeGo}
        removal={remove}
        onRemove={() => {
          remove.mutate({ params: { trialId: id } }, { onSuccess: () => void navigate('/trials') });
        }}
      />
    </div>
  );
}
