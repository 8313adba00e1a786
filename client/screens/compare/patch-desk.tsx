import { useState } from 'react';
import type { ReactNode } from 'react';
import type { NewComparison } from '@domain/api/comparisons.ts';
import type { StoredPhoto } from '@domain/api/photos.ts';
import type { Settings } from '@domain/settings.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { Switch } from '../../components/switch.tsx';
import { words } from '../../i18n/words.ts';
import { suggestedSettings } from '../check/first-settings.ts';
import { SettingsDials } from '../check/settings-dials.tsx';
import { OutlineEditor } from '../outline/outline-editor.tsx';
import { firstPatches, nextPatch } from './patch-layout.ts';
import type { Patch } from './patch-layout.ts';
import { PatchPhoto } from './patch-photo.tsx';

const LEAST_PATCHES = 2;
const MOST_PATCHES = 6;

/** One photo with two to six patches on it, each with its name, its corners and, where known, its settings. */
export function PatchDesk({ onPick }: { onPick: (of: NewComparison['of'] | null) => void }): ReactNode {
  const [photo, setPhoto] = useState<StoredPhoto | null>(null);
  const [patches, setPatches] = useState<readonly Patch[]>([]);
  const keep = (of: StoredPhoto, next: readonly Patch[]): void => {
    setPatches(next);
    onPick({
      kind: 'patches',
      photoId: of.id,
      patches: next.map(({ name, corners, settings }) => ({
        name,
        outline: { polygonPx: corners.map(([x, y]): [number, number] => [x, y]) },
        settings,
      })),
    });
  };
  return (
    <section className="stack">
      <h2>{words.compare.photo}</h2>
      <p className="muted">{words.compare.photoHint}</p>
      {photo === null ? (
        <PatchPhoto
          onPhoto={(stored) => {
            setPhoto(stored);
            keep(stored, firstPatches(stored));
          }}
        />
      ) : (
        <Patches
          photo={photo}
          patches={patches}
          onChange={(next) => {
            keep(photo, next);
          }}
        />
      )}
    </section>
  );
}

interface PatchesProps {
  readonly photo: StoredPhoto;
  readonly patches: readonly Patch[];
  readonly onChange: (patches: readonly Patch[]) => void;
}

function Patches({ photo, patches, onChange }: PatchesProps): ReactNode {
  const [picked, setPicked] = useState(0);
  const at = Math.min(picked, patches.length - 1);
  const patch = patches[at];
  const change = (part: Partial<Patch>): void => {
    onChange(patches.map((each, index) => (index === at ? { ...each, ...part } : each)));
  };
  return (
    <>
      <PickOne
        label={words.compare.patch}
        options={patches.map(({ name }, index) => ({ value: String(index), word: name }))}
        value={String(at)}
        onPick={(value) => {
          setPicked(Number(value));
        }}
      />
      <OutlineEditor
        key={at}
        photo={photo}
        alt={words.compare.photoAlt}
        corners={patch.corners}
        others={patches.filter((_, index) => index !== at).map(({ corners }) => corners)}
        onChange={(corners) => {
          change({ corners });
        }}
      />
      <TextField
        label={words.compare.patchName}
        value={patch.name}
        maxLength={40}
        autoComplete="off"
        onChange={(event) => {
          change({ name: event.target.value });
        }}
      />
      <PatchSettings
        settings={patch.settings}
        onChange={(settings) => {
          change({ settings });
        }}
      />
      <PatchKeys
        patches={patches}
        onAdd={() => {
          onChange([...patches, nextPatch(patches, photo)]);
          setPicked(patches.length);
        }}
        onRemove={() => {
          onChange(patches.toSpliced(at, 1));
        }}
      />
    </>
  );
}

function PatchKeys({
  patches,
  onAdd,
  onRemove,
}: {
  patches: readonly Patch[];
  onAdd: () => void;
  onRemove: () => void;
}): ReactNode {
  return (
    <div className="row">
      {patches.length < MOST_PATCHES ? (
        <Button icon="plus" onClick={onAdd}>
          {words.compare.addPatch}
        </Button>
      ) : null}
      {patches.length > LEAST_PATCHES ? (
        <Button look="plain" onClick={onRemove}>
          {words.compare.removePatch}
        </Button>
      ) : null}
    </div>
  );
}

/** The settings that a patch was cleaned with, on the dials of the shop's usual machine. */
function PatchSettings({
  settings,
  onChange,
}: {
  settings: Settings | null;
  onChange: (settings: Settings | null) => void;
}): ReactNode {
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  const shop = useAnswer('readShop', {}, { staleTime: 300_000 });
  const all = machines.data?.items ?? [];
  const machine = all.find(({ id }) => id === shop.data?.usualMachineId) ?? all.at(0);
  if (machine === undefined) return null;
  return (
    <div className="stack">
      <Switch
        isOn={settings !== null}
        onTurn={() => {
          onChange(settings === null ? suggestedSettings(null, machine) : null);
        }}
      >
        {words.compare.settingsKnown}
      </Switch>
      {settings === null ? null : (
        <SettingsDials settings={settings} machine={machine} last={null} onChange={onChange} />
      )}
    </div>
  );
}
