import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { useNavigate } from 'react-router';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { words } from '../../i18n/words.ts';
import { LabelCamera } from './label-camera.tsx';
import { canScan, labelCodeOf } from './label-code.ts';

/** By camera where the browser can read codes, by typing everywhere. */
export function ScanLabel(): ReactNode {
  const navigate = useNavigate();
  const [isScanning, setScanning] = useState(false);
  const [error, setError] = useState<string | undefined>();
  const open = (code: string): void => {
    void navigate(`/z/${code}`);
  };
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const typed = new FormData(event.currentTarget).get('code');
    const code = labelCodeOf(typeof typed === 'string' ? typed : '');
    setError(code === null ? words.check.codeWrong : undefined);
    if (code !== null) open(code);
  };
  return (
    <div className="stack">
      {isScanning ? (
        <LabelCamera
          onFound={open}
          onClose={() => {
            setScanning(false);
          }}
        />
      ) : null}
      {canScan() && !isScanning ? (
        <Button
          icon="scan"
          onClick={() => {
            setScanning(true);
          }}
        >
          {words.check.scan}
        </Button>
      ) : null}
      <form className="stack" onSubmit={submit}>
        <TextField
          label={words.check.scanCode}
          name="code"
          hint={canScan() ? words.check.scanHint : words.check.scanNoCamera}
          error={error}
          autoCapitalize="characters"
          autoComplete="off"
          maxLength={12}
        />
        <Button type="submit">{words.check.scanGo}</Button>
      </form>
    </div>
  );
}
