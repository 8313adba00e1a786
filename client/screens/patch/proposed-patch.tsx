import type { ReactNode } from 'react';
import type { TestPatch } from '@domain/advice.ts';
import { Button } from '../../components/button.tsx';
import { words } from '../../i18n/words.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { SettingFigures } from '../answer/setting-figures.tsx';
import { useOpenPatch } from './patch-state.ts';

/** A patch that should teach more than it costs: why, at which setting, and the way to enter its outcome. */
export function ProposedPatch({
  zoneId,
  patch,
  look,
  heading: Heading,
}: {
  zoneId: string;
  patch: TestPatch;
  look: 'primary' | 'quiet';
  heading: 'h2' | 'h3';
}): ReactNode {
  const units = useUnits();
  const open = useOpenPatch(zoneId);
  const { settings, widthMm, lengthMm } = patch;
  return (
    <section className="plate stack" aria-label={words.patch.proposed}>
      <Heading>{words.patch.proposed}</Heading>
      <p>{sentenceInUnits(patch.why, units)}</p>
      <SettingFigures settings={settings} last={null} />
      <p className="muted">{words.patch.size(units.length(widthMm), units.length(lengthMm))}</p>
      <Button
        look={look}
        isWide={look === 'primary'}
        onClick={() => {
          open({ patch });
        }}
      >
        {words.patch.go}
      </Button>
    </section>
  );
}
