import type { ReactNode } from 'react';
import { ClassKey } from '../../components/class-key.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';
import { BRUSH } from './brush-size.ts';
import { lookOf, PAINTS, TOOLS } from './tool.ts';
import type { Tool } from './tool.ts';
import type { Paint } from '@domain/api/corrections.ts';

export interface ToolChoice {
  readonly tool: Tool;
  readonly paint: Paint;
  /** Diameter: millimetres, or pixels of the class map. */
  readonly size: number;
}

const wordOf = (paint: Paint): string => (paint === 'not measured' ? words.classes.notMeasured : words.classes[paint]);

/** What the hand holds: tool, class and size. */
export function PaintTools({
  choice,
  shownSize,
  onChoose,
}: {
  choice: ToolChoice;
  shownSize: string;
  onChoose: (choice: ToolChoice) => void;
}): ReactNode {
  const { tool, paint, size } = choice;
  return (
    <div className="stack">
      <div className="stack stack-tight">
        <PickOne
          label={words.inspect.tool}
          options={TOOLS.map((value) => ({ value, word: words.inspect.tools[value] }))}
          value={tool}
          onPick={(picked) => {
            onChoose({ ...choice, tool: picked });
          }}
        />
        <p className="field-hint">{words.inspect.toolHints[tool]}</p>
      </div>
      {tool === 'move' ? null : (
        <PickOne
          label={words.inspect.paint}
          options={PAINTS.map((value) => ({
            value,
            word: wordOf(value),
            mark: <ClassKey marked={lookOf(value)} />,
          }))}
          value={paint}
          onPick={(picked) => {
            onChoose({ ...choice, paint: picked });
          }}
        />
      )}
      {tool === 'brush' ? (
        <label className="range">
          <span>
            <strong>{words.inspect.size}</strong> <span className="muted">{words.inspect.sizeSaid(shownSize)}</span>
          </span>
          <input
            type="range"
            min={BRUSH.least}
            max={BRUSH.most}
            step={BRUSH.step}
            value={size}
            aria-valuetext={shownSize}
            onChange={(event) => {
              onChoose({ ...choice, size: Number(event.target.value) });
            }}
          />
        </label>
      ) : null}
    </div>
  );
}
