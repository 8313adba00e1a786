import { useState } from 'react';
import type { ReactNode } from 'react';
import { ZONE_STANDINGS } from '@domain/api/zones.ts';
import type { ZoneStanding } from '@domain/api/zones.ts';
import { usePages } from '../../api/use-answer.ts';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField } from '../../components/field.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { ZoneRow } from './zone-row.tsx';

const SORTS = ['-lastActivityAt', 'name', '-createdAt'] as const;
type Sort = (typeof SORTS)[number];

export function ZonesScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const [sort, setSort] = useState<Sort>('-lastActivityAt');
  const [standing, setStanding] = useState<ZoneStanding | null>(null);
  const zones = usePages('listZones', { query: { sort, q, standing: standing ?? undefined } });
  return (
    <Page title={words.zones.title} lead={words.zones.lead}>
      <div className="grid-two">
        <SearchBox label={words.zones.searchLabel} typed={typed} onType={setTyped} />
        <div className="grid-two">
          <SelectField
            label={words.zones.standingLabel}
            value={standing ?? ''}
            choices={[
              { value: '', word: words.zones.anyStanding },
              ...ZONE_STANDINGS.map((value) => ({ value, word: words.standing[value] })),
            ]}
            onChange={(event) => {
              setStanding(ZONE_STANDINGS.find((each) => each === event.target.value) ?? null);
            }}
          />
          <SelectField
            label={words.zones.sortLabel}
            value={sort}
            choices={SORTS.map((value) => ({ value, word: words.zones.sorts[value] }))}
            onChange={(event) => {
              setSort(SORTS.find((each) => each === event.target.value) ?? '-lastActivityAt');
            }}
          />
        </div>
      </div>
      <Listing
        pages={zones}
        row={(zone) => <ZoneRow zone={zone} to={`/zones/${zone.id}`} />}
        empty={
          <EmptyState title={words.zones.none}>
            <p>{q === undefined && standing === null ? words.check.noneHint : words.zones.noneHint}</p>
          </EmptyState>
        }
      />
    </Page>
  );
}
