import { useState } from 'react';
import type { ReactNode } from 'react';
import type { Paint } from '@domain/api/corrections.ts';
import type { PhotoRole } from '@domain/api/photos.ts';
import { newId } from '../../api/new-id.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Switch } from '../../components/switch.tsx';
import { words } from '../../i18n/words.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import type { CorrectionDraft } from './correction-draft.ts';

/** A polygon needs three corners. */
const LEAST_CORNERS = 3;

interface KeysProps {
  readonly assessmentId: string;
  readonly role: PhotoRole;
  readonly draft: CorrectionDraft;
  readonly paint: Paint;
  readonly corners: readonly Point[];
  readonly onCorners: (corners: readonly Point[]) => void;
}

/** Close an outline, undo, and keep what was painted, with the reason. */
export function DraftKeys(props: KeysProps): ReactNode {
  const { draft } = props;
  return (
    <div className="stack">
      <OutlineKeys {...props} />
      {draft.marks.length === 0 ? null : <KeepKeys {...props} />}
    </div>
  );
}

function OutlineKeys({ draft, paint, corners, onCorners }: KeysProps): ReactNode {
  if (corners.length === 0) return null;
  const isOpen = corners.length < LEAST_CORNERS;
  return (
    <div className="row">
      <Button
        aria-disabled={isOpen}
        onClick={() => {
          if (isOpen) return;
          draft.add({ kind: 'polygon', paint, points: corners.map(([x, y]): [number, number] => [x, y]) });
          onCorners([]);
        }}
      >
        {words.inspect.closeOutline}
      </Button>
      <Button
        look="plain"
        onClick={() => {
          onCorners([]);
        }}
      >
        {words.inspect.dropOutline}
      </Button>
    </div>
  );
}

function KeepKeys({ assessmentId, role, draft }: KeysProps): ReactNode {
  const add = useChange('addCorrection');
  const [id, setId] = useState(newId);
  const [reason, setReason] = useState('');
  const [mayTrain, setMayTrain] = useState(false);
  const keep = (): void => {
    const body = { id, map: role, marks: [...draft.marks], mayTrain, reason };
    add.mutate(
      { params: { assessmentId }, body },
      {
        onSuccess: () => {
          draft.clear();
          setId(newId());
          setMayTrain(false);
        },
      },
    );
  };
  return (
    <div className="plate stack">
      <p role="status">
        <strong>{words.inspect.marks(draft.marks.length)}</strong>
      </p>
      <div className="row">
        <Button onClick={draft.undo}>{words.inspect.undo}</Button>
        <Button look="plain" onClick={draft.clear}>
          {words.inspect.drop}
        </Button>
      </div>
      <TextField
        label={words.inspect.reason}
        value={reason}
        maxLength={500}
        autoComplete="off"
        onChange={(event) => {
          setReason(event.target.value);
        }}
      />
      <Switch
        isOn={mayTrain}
        onTurn={() => {
          setMayTrain(!mayTrain);
        }}
      >
        {words.inspect.mayTrain}
      </Switch>
      <p className="muted small">{words.inspect.mayTrainHint}</p>
      {draft.trial.error === null ? null : <Notice kind="fault">{draft.trial.error.message}</Notice>}
      {add.error === null ? null : <Notice kind="fault">{add.error.message}</Notice>}
      <Button look="primary" isBusy={add.isPending} onClick={keep}>
        {words.inspect.keep}
      </Button>
    </div>
  );
}
