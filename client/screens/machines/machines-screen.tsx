import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { ShopMachine } from '@domain/api/machines.ts';
import { usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { FindAndShowRow, useFindAndShow } from '../../components/find-and-show.tsx';
import { Listing } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import { useUnits } from '../../units/use-units.ts';
import { shownSetting } from '../check/shown-setting.ts';

export function MachinesScreen(): ReactNode {
  const list = useFindAndShow();
  const machines = usePages('listMachines', { query: { q: list.q, putAway: list.shown } });
  const mayAdd = useMayCall('addMachine');
  return (
    <Page title={words.machines.title} lead={words.machines.lead}>
      <FindAndShowRow
        list={list}
        findLabel={words.machines.searchLabel}
        showLabel={words.machines.showLabel}
        showWords={words.machines.show}
      />
      <Listing
        pages={machines}
        row={(machine) => <MachineRow machine={machine} />}
        empty={
          <EmptyState title={words.machines.none}>
            <p>{list.isNarrowed ? words.machines.noneFound : words.machines.noneHint}</p>
          </EmptyState>
        }
      />
      {mayAdd ? (
        <div className="actions">
          <LinkButton to="/machines/new" icon="plus">
            {words.machines.add}
          </LinkButton>
        </div>
      ) : null}
    </Page>
  );
}

function MachineRow({ machine: { id, name, machine, isInvented, isPutAway } }: { machine: ShopMachine }): ReactNode {
  const units = useUnits();
  const facts = words.machines.facts(
    shownSetting('powerW', machine.powerW.max, units).text,
    shownSetting('scanWidthMm', machine.scanWidthMm.max, units).text,
    units.length(machine.spotDiameterMm),
  );
  const tag = isPutAway ? words.machines.away : isInvented ? words.invented : null;
  return (
    <Link to={`/machines/${id}`} className="row-link">
      <span className="row-name">{name}</span>
      {tag === null ? <span /> : <span className="tag">{tag}</span>}
      <span className="muted small">{facts}</span>
    </Link>
  );
}
