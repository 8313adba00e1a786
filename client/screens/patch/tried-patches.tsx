import type { ReactNode } from 'react';
import type { ZonePatch } from '@domain/api/test-patches.ts';
import { useChange } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { RemoveKey } from '../../components/remove-key.tsx';
import { words } from '../../i18n/words.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from '../check/shown-setting.ts';

/** Patches that were tried, with what each left; one that was entered wrongly is taken back here. */
export function TriedPatches({
  patches,
  heading: Heading,
}: {
  patches: readonly ZonePatch[];
  heading: 'h2' | 'h3';
}): ReactNode {
  if (patches.length === 0) return null;
  return (
    <section className="stack" aria-label={words.patch.tried(patches.length)}>
      <Heading>{words.patch.tried(patches.length)}</Heading>
      <ul className="stack stack-tight">
        {patches.map((patch) => (
          <TriedPatch key={patch.id} patch={patch} />
        ))}
      </ul>
    </section>
  );
}

function TriedPatch({ patch }: { patch: ZonePatch }): ReactNode {
  const units = useUnits();
  const remove = useChange('removeTestPatch');
  const { settings, residue, how, afterRound, id } = patch;
  const facts = [how === 'photo' ? words.patch.byPhoto : words.patch.byEye, words.patch.afterRound(afterRound)];
  const speed = patch.travelSpeedMmPerS;
  return (
    <li className="plate stack stack-tight">
      <p>
        <strong>{words.patch.left(formatShare(residue.value), formatShareInterval(residue))}</strong>{' '}
        <span className="muted">{facts.join(', ')}</span>
      </p>
      <p className="muted small">
        {SETTING_KEYS.map((key) => shownSetting(key, settings[key], units).text).join(' · ')}
      </p>
      {speed === null ? null : <p className="muted small">{words.answer.streakSpeedOnly(units.speed(speed.value))}</p>}
      <div className="row">
        {patch.comparisonId === null ? null : (
          <LinkButton look="plain" to={`/compare/${patch.comparisonId}`}>
            {words.patch.look}
          </LinkButton>
        )}
        <RemoveKey
          word={words.patch.remove}
          title={words.patch.removeTitle}
          hint={words.patch.removeHint}
          go={words.patch.removeGo}
          removal={remove}
          onRemove={() => {
            remove.mutate({ params: { patchId: id } });
          }}
        />
      </div>
    </li>
  );
}
