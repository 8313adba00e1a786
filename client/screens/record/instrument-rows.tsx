import { useState } from 'react';
import type { ReactNode } from 'react';
import type { Readings } from '@domain/readings.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { words } from '../../i18n/words.ts';

type Instrument = Readings['instruments'][number]['value'];

/** One row an instrument; a row that is left empty is none. */
export function InstrumentRows({ instruments }: { instruments: readonly Instrument[] }): ReactNode {
  const [count, setCount] = useState(Math.max(1, instruments.length));
  return (
    <div className="stack">
      {Array.from({ length: count }, (_row, index) => (
        <fieldset key={index} className="grid-two">
          <legend className="unseen">{`${words.reading.instrumentKind} ${index + 1}`}</legend>
          <InstrumentFields instrument={instruments.at(index)} />
        </fieldset>
      ))}
      <div>
        <Button
          icon="plus"
          onClick={() => {
            setCount(count + 1);
          }}
        >
          {words.reading.addInstrument}
        </Button>
      </div>
    </div>
  );
}

function InstrumentFields({ instrument }: { instrument: Instrument | undefined }): ReactNode {
  return (
    <>
      <TextField
        label={words.reading.instrumentKind}
        name="instrumentKind"
        maxLength={80}
        defaultValue={instrument?.kind}
      />
      <TextField
        label={words.reading.serialNumber}
        name="serialNumber"
        maxLength={80}
        defaultValue={instrument?.serialNumber}
      />
      <TextField
        label={words.reading.calibratedOn}
        name="calibratedOn"
        type="date"
        defaultValue={instrument?.calibratedOn ?? ''}
      />
      <TextField label={words.reading.usedFor} name="usedFor" maxLength={80} defaultValue={instrument?.usedFor} />
    </>
  );
}
