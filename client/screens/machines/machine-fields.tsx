import { useId } from 'react';
import type { ReactNode } from 'react';
import type { Machine } from '@domain/machine.ts';
import { TextField } from '../../components/field.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';
import type { ShownUnits } from '../../units/shown-units.ts';
import { ENDS } from './machine-form.ts';
import type { Dial, MachineField, Wrong } from './machine-form.ts';

type Strokes = Machine['strokesPerCycle'];

interface FieldsProps {
  readonly texts: ReadonlyMap<MachineField, string>;
  readonly units: ShownUnits;
  readonly wrong: ReadonlyMap<Dial | 'spotDiameterMm' | 'maxPasses', Wrong> | null;
  readonly strokes: Strokes;
  readonly onStrokes: (strokes: Strokes) => void;
}

const WRONG_WORDS: Readonly<Record<Wrong, string>> = {
  number: words.machines.wrongNumber,
  order: words.machines.wrongOrder,
  passes: words.machines.wrongPasses,
};

/** Ends and steps of each dial, then what the kinematics need of the optics. */
export function MachineFields(props: FieldsProps): ReactNode {
  const { units, texts, wrong, strokes, onStrokes } = props;
  const errorAt = (field: 'spotDiameterMm' | 'maxPasses'): string | undefined => wordsOf(wrong?.get(field));
  return (
    <>
      <section className="stack">
        <h2>{words.machines.dials}</h2>
        <DialFields dial="powerW" unit="W" {...props} />
        <DialFields dial="scanWidthMm" unit={units.lengthUnit} {...props} />
        <DialFields dial="scanFrequencyHz" unit="Hz" {...props} />
        <DialFields dial="travelSpeedMmPerS" unit={units.speedUnit} {...props} />
        <TextField
          label={words.machines.mostPasses}
          name="maxPasses"
          inputMode="numeric"
          defaultValue={texts.get('maxPasses')}
          error={errorAt('maxPasses')}
          required
        />
      </section>
      <section className="stack">
        <h2>{words.machines.optics}</h2>
        <TextField
          label={words.machines.spot}
          hint={words.machines.spotHint}
          name="spotDiameterMm"
          inputMode="decimal"
          suffix={units.lengthUnit}
          defaultValue={texts.get('spotDiameterMm')}
          error={errorAt('spotDiameterMm')}
          required
        />
        <div className="stack stack-tight">
          <PickOne
            label={words.machines.strokes}
            options={[
              { value: '2', word: words.machines.strokesChoices[2] },
              { value: '1', word: words.machines.strokesChoices[1] },
            ]}
            value={strokes === 2 ? '2' : '1'}
            onPick={(picked) => {
              onStrokes(picked === '2' ? 2 : 1);
            }}
          />
          <p className="field-hint">{words.machines.strokesHint}</p>
        </div>
      </section>
    </>
  );
}

const wordsOf = (wrong: Wrong | undefined): string | undefined =>
  wrong === undefined ? undefined : WRONG_WORDS[wrong];

function DialFields({ dial, unit, texts, wrong }: FieldsProps & { dial: Dial; unit: string }): ReactNode {
  const id = useId();
  const error = wordsOf(wrong?.get(dial));
  return (
    <fieldset className="dial-fields" aria-describedby={error === undefined ? undefined : id}>
      <legend>
        {dial === 'travelSpeedMmPerS' ? words.machines.travel : words.settings[dial]}{' '}
        <span className="muted">{unit}</span>
      </legend>
      {ENDS.map((end) => (
        <TextField
          key={end}
          label={end === 'min' ? words.machines.from : end === 'max' ? words.machines.to : words.machines.step}
          name={`${dial}.${end}`}
          inputMode="decimal"
          autoComplete="off"
          defaultValue={texts.get(`${dial}.${end}`)}
          required
        />
      ))}
      {error === undefined ? null : (
        <p id={id} className="field-error dial-error">
          {error}
        </p>
      )}
    </fieldset>
  );
}
