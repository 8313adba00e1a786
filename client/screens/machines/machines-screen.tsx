import { useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { ShopMachine } from '@domain/api/machines.ts';
import { usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { PutAwayChoice } from '../../components/put-away-choice.tsx';
import type { PutAway } from '../../components/put-away-choice.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import { useUnits } from '../../units/use-units.ts';
import { shownSetting } from '../check/shown-setting.ts';

export function MachinesScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const [putAway, setPutAway] = useState<PutAway>('no');
  const machines = usePages('listMachines', { query: { q, putAway } });
  const mayAdd = useMayCall('addMachine');
  const isSearching = q !== undefined || putAway !== 'no';
  return (
    <Page title={words.machines.title} lead={words.machines.lead}>
      <div className="grid-two">
        <SearchBox label={words.machines.searchLabel} typed={typed} onType={setTyped} />
        <PutAwayChoice
          label={words.machines.showLabel}
          words={words.machines.show}
          value={putAway}
          onChoose={setPutAway}
        />
      </div>
      <Listing
        pages={machines}
        row={(machine) => <MachineRow machine={machine} />}
        empty={
          <EmptyState title={words.machines.none}>
            <p>{isSearching ? words.machines.noneFound : words.machines.noneHint}</p>
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
