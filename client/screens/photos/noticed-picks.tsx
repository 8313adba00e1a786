import type { ReactNode } from 'react';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';

const { scrapeChoices, heatChoices } = words.round;

type Noticed = Pick<ZoneRound, 'scrapeTest' | 'heatTint'>;

/** What a knife and an eye tell of treated steel, and a photo hardly does. */
export function NoticedPicks({
  scrapeTest,
  heatTint,
  onPick,
}: Noticed & { onPick: (picked: Partial<Noticed>) => void }): ReactNode {
  return (
    <>
      <PickOne
        label={words.round.scrape}
        options={[
          { value: 'none', word: scrapeChoices.none },
          { value: 'clean', word: scrapeChoices.clean },
          { value: 'material came off', word: scrapeChoices.came },
        ]}
        value={scrapeTest ?? 'none'}
        onPick={(value) => {
          onPick({ scrapeTest: value === 'none' ? null : value });
        }}
      />
      <PickOne
        label={words.round.heat}
        options={[
          { value: 'none', word: heatChoices.none },
          { value: 'no', word: heatChoices.no },
          { value: 'yes', word: heatChoices.yes },
        ]}
        value={heatTint === null ? 'none' : heatTint ? 'yes' : 'no'}
        onPick={(value) => {
          onPick({ heatTint: value === 'none' ? null : value === 'yes' });
        }}
      />
    </>
  );
}
