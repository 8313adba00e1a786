import type { ReactNode } from 'react';
import type { LearnedKind } from '@domain/api/trials.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { EmptyState } from '../../components/empty-state.tsx';
import { Page } from '../../components/page.tsx';
import { RemoveKey } from '../../components/remove-key.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/planning.css';
import { formatNumber } from '../../units/shown-units.ts';

export function LearnedScreen(): ReactNode {
  const learned = useAnswer('listLearned', {});
  const mayForget = useMayCall('forgetLearned');
  if (learned.data === undefined) return <NotHereYet reading={learned} />;
  const { items } = learned.data;
  return (
    <Page title={words.learned.title} lead={words.learned.lead} isWide>
      {items.length === 0 ? (
        <EmptyState title={words.learned.none}>
          <p>{words.learned.noneHint}</p>
        </EmptyState>
      ) : (
        <LearnedTable items={items} mayForget={mayForget} />
      )}
    </Page>
  );
}

function LearnedTable({ items, mayForget }: { items: readonly LearnedKind[]; mayForget: boolean }): ReactNode {
  const titles = [
    words.learned.machine,
    words.learned.kind,
    words.learned.from,
    words.learned.threshold,
    words.learned.energy,
    ...(mayForget ? [words.learned.forget] : []),
  ];
  return (
    <div className="table-scroll" role="region" aria-label={words.learned.title} tabIndex={0}>
      {/* The roles stand, since the phone lays rows out as cards. */}
      <table className="card-table" role="table">
        <thead role="rowgroup">
          <tr role="row">
            {titles.map((title) => (
              <th key={title} scope="col" role="columnheader">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {items.map((item) => (
            <LearnedRow key={`${item.machineId} ${item.kind}`} item={item} mayForget={mayForget} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function LearnedRow({ item, mayForget }: { item: LearnedKind; mayForget: boolean }): ReactNode {
  const forget = useChange('forgetLearned');
  const { machineId, machineName, kind, zones, rounds, forgottenAt } = item;
  return (
    <tr role="row">
      <th scope="row" role="rowheader">
        {machineName}
      </th>
      <td role="cell" data-title={words.learned.kind}>
        {words.kinds[kind]}
      </td>
      <td role="cell" data-title={words.learned.from}>
        {words.learned.fromWords(zones, rounds)}
        {forgottenAt === null ? null : (
          <div className="muted small">
            {words.learned.forgotten(new Date(forgottenAt).toLocaleDateString('en-GB'))}
          </div>
        )}
      </td>
      <Figure
        title={words.learned.threshold}
        value={item.thresholdJPerCm2}
        factor={item.thresholdWithinFactor}
        usual={item.usualThresholdJPerCm2}
      />
      <Figure
        title={words.learned.energy}
        value={item.energyJPerCm2}
        factor={item.energyWithinFactor}
        usual={item.usualEnergyJPerCm2}
      />
      {mayForget ? (
        <td role="cell" className="card-table-act">
          {zones === 0 ? null : (
            <RemoveKey
              word={words.learned.forget}
              title={words.learned.forgetTitle(words.kinds[kind], machineName)}
              hint={words.learned.forgetHint}
              go={words.learned.forgetGo}
              removal={forget}
              onRemove={() => {
                forget.mutate({ body: { machineId, kind } });
              }}
            />
          )}
        </td>
      ) : null}
    </tr>
  );
}

function Figure(props: { title: string; value: number; factor: number; usual: number }): ReactNode {
  const { title, value, factor, usual } = props;
  return (
    <td role="cell" data-title={title}>
      {words.learned.within(formatNumber(value, 1), formatNumber(factor, 1))}
      <div className="muted small">{words.learned.usual(formatNumber(usual, 1))}</div>
    </td>
  );
}
