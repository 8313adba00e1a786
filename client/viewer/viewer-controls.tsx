import type { Viewer } from 'openseadragon';
import type { ReactNode } from 'react';
import { ClassKey } from '../components/class-key.tsx';
import { PickOne } from '../components/pick-one.tsx';
import { Switch } from '../components/switch.tsx';
import { words } from '../i18n/words.ts';
import { MARKED_CLASSES } from './class-look.ts';
import type { PictureFrame } from './picture-frame.ts';
import { ZoomKeys } from './zoom-keys.tsx';
import { toggleClass, VIEWS } from './viewer-choices.ts';
import type { ViewerChoices } from './viewer-choices.ts';

interface ControlsProps {
  readonly choices: ViewerChoices;
  readonly onChoose: (choices: ViewerChoices) => void;
  readonly viewer: Viewer | null;
  readonly frame: PictureFrame;
  readonly hasBefore: boolean;
  readonly streaks: boolean;
}

export function ViewerControls(props: ControlsProps): ReactNode {
  const { choices, onChoose, hasBefore } = props;
  return (
    <div className="viewer-controls">
      <div className="stack">
        {hasBefore ? (
          <PickOne
            label={words.story.view}
            options={VIEWS.map((value) => ({ value, word: words.story.views[value] }))}
            value={choices.view}
            onPick={(view) => {
              onChoose({ ...choices, view });
            }}
          />
        ) : (
          <p className="muted">{words.story.noBefore}</p>
        )}
        <ZoomKeys {...props} />
      </div>
      <ClassSwitches choices={choices} onChoose={onChoose} />
      <MarkSwitches {...props} />
    </div>
  );
}

function ClassSwitches({ choices, onChoose }: Pick<ControlsProps, 'choices' | 'onChoose'>): ReactNode {
  return (
    <fieldset className="stack stack-tight">
      <legend className="switch-title">{words.story.classes}</legend>
      {MARKED_CLASSES.map((marked) => (
        <Switch
          key={marked}
          isOn={choices.shown.has(marked)}
          onTurn={() => {
            onChoose({ ...choices, shown: toggleClass(choices.shown, marked) });
          }}
        >
          <ClassKey marked={marked} />
          {words.classes[marked]}
        </Switch>
      ))}
      <label className="range">
        <span>{words.story.opacity}</span>
        <input
          type="range"
          min="0"
          max="100"
          step="5"
          value={Math.round(choices.opacity * 100)}
          onChange={(event) => {
            onChoose({ ...choices, opacity: Number(event.target.value) / 100 });
          }}
        />
      </label>
    </fieldset>
  );
}

function MarkSwitches({ choices, onChoose, frame, streaks }: ControlsProps): ReactNode {
  const hasPlane = frame.toMm !== null;
  const turn = (part: Partial<ViewerChoices>) => (): void => {
    onChoose({ ...choices, ...part });
  };
  return (
    <fieldset className="stack stack-tight">
      <legend className="switch-title">{words.story.marks}</legend>
      <Switch isOn={choices.hasOutline} onTurn={turn({ hasOutline: !choices.hasOutline })}>
        {words.story.outline}
      </Switch>
      {hasPlane ? (
        <>
          <Switch isOn={choices.hasWorst} onTurn={turn({ hasWorst: !choices.hasWorst })}>
            {words.story.worst}
          </Switch>
          {streaks ? (
            <Switch isOn={choices.hasStreaks} onTurn={turn({ hasStreaks: !choices.hasStreaks })}>
              {words.story.streaks}
            </Switch>
          ) : null}
          <Switch isOn={choices.isMeasuring} onTurn={turn({ isMeasuring: !choices.isMeasuring })}>
            {words.story.measure}
          </Switch>
          {choices.isMeasuring ? <p className="muted small">{words.story.measureHint}</p> : null}
          {choices.hasStreaks && streaks ? <p className="muted small">{words.story.streakNote}</p> : null}
        </>
      ) : (
        <p className="muted small">{words.story.noPlane}</p>
      )}
    </fieldset>
  );
}
