import type { Viewer } from 'openseadragon';
import { useRef, useState } from 'react';
import type { KeyboardEvent, PointerEvent, ReactNode } from 'react';
import type { PaintMark } from '@domain/api/corrections.ts';
import { CLASS_CODE, NOT_MEASURED_CODE, SURFACE_CLASSES } from '@domain/surface.ts';
import type { ClassMap } from '@domain/paint-class-map.ts';
import { words } from '../../i18n/words.ts';
import { applyAffine, chainAffine, invertAffine } from '../../viewer/affine.ts';
import type { Affine } from '../../viewer/affine.ts';
import type { PaneView } from '../../viewer/photo-pane.tsx';
import type { Point } from '../../viewer/plane-geometry.ts';
import { PaintDrawing } from './paint-drawing.tsx';
import { addStrokePoint, MOST_STROKE_POINTS } from './stroke-points.ts';
import type { Brush } from './tool.ts';
import { useWheelZoom } from './wheel-zoom.ts';

const STEPS: Readonly<Partial<Record<string, Point>>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
/** Steps of the arrow keys, pixels of the screen. */
const STEP_PX = 6;
const COARSE_STEP_PX = 36;

interface LayerProps {
  readonly view: PaneView;
  readonly viewer: Viewer;
  readonly map: ClassMap;
  readonly photoPxPerPixel: number;
  readonly brush: Brush;
  /** Corners of an outline that is not closed yet, pixels of the class map. */
  readonly corners: readonly Point[];
  readonly onCorners: (corners: readonly Point[]) => void;
  readonly onMark: (mark: PaintMark) => void;
}

/** Takes the hand, the pen or the arrow keys and makes marks of them. It lies over the photo while a tool is chosen. */
export function PaintLayer(props: LayerProps): ReactNode {
  const { viewer, brush, corners } = props;
  const layer = useRef<HTMLDivElement>(null);
  useWheelZoom(layer, viewer);
  const hand = usePaintingHand(props);
  const { toScreen, cursor, stroke, said } = hand;
  const pointOf = (event: PointerEvent<HTMLDivElement>): Point => {
    const box = event.currentTarget.getBoundingClientRect();
    return applyAffine(invertAffine(toScreen), [event.clientX - box.left, event.clientY - box.top]);
  };
  return (
    <div
      ref={layer}
      className="paint-layer"
      role="application"
      tabIndex={0}
      aria-label={words.inspect.canvas(words.inspect.tools[brush.tool])}
      onKeyDown={hand.press}
      onPointerDown={(event) => {
        if (event.button !== 0) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        hand.use(pointOf(event));
      }}
      onPointerMove={(event) => {
        hand.goOn(pointOf(event));
      }}
      onPointerUp={hand.lift}
      onPointerCancel={hand.drop}
    >
      <PaintDrawing toScreen={toScreen} brush={brush} cursor={cursor} stroke={stroke} corners={corners} />
      <span className="unseen" role="status">
        {stroke === null ? said : `${said}, ${words.inspect.penDown}`}
      </span>
    </div>
  );
}

interface PaintingHand {
  /** From pixels of the class map to pixels of the layer. */
  readonly toScreen: Affine;
  readonly cursor: Point | null;
  readonly stroke: readonly Point[] | null;
  /** Where the keys brought the tool, in words. */
  readonly said: string;
  /** Begins or does at a point what the tool does. */
  readonly use: (at: Point) => void;
  readonly goOn: (at: Point) => void;
  readonly lift: () => void;
  readonly drop: () => void;
  readonly press: (event: KeyboardEvent) => void;
}

function usePaintingHand({ view, map, photoPxPerPixel, brush, corners, onCorners, onMark }: LayerProps): PaintingHand {
  const [cursor, setCursor] = useState<Point | null>(null);
  const [stroke, setStroke] = useState<readonly Point[] | null>(null);
  const [said, setSaid] = useState('');
  const toScreen = chainAffine([photoPxPerPixel, 0, 0, photoPxPerPixel, 0, 0], view.toScreen);
  const finish = (points: readonly Point[]): void => {
    setStroke(null);
    onMark({ kind: 'brush', paint: brush.paint, radiusPx: brush.radiusPx, points: points.map(copyOf) });
  };
  const goOn = (at: Point): void => {
    setCursor(at);
    if (stroke === null) return;
    const longer = addStrokePoint(stroke, at, brush.radiusPx);
    if (longer.length >= MOST_STROKE_POINTS) finish(longer);
    setStroke(longer.length < MOST_STROKE_POINTS ? longer : [at]);
  };
  const use = (at: Point): void => {
    if (brush.tool === 'brush') setStroke([at]);
    if (brush.tool === 'polygon') onCorners([...corners, at]);
    if (brush.tool === 'fill') onMark({ kind: 'fill', paint: brush.paint, at: copyOf(at) });
  };
  const press = (event: KeyboardEvent): void => {
    const at = cursor ?? middleOf(view, toScreen);
    const step = STEPS[event.key];
    if (step !== undefined) {
      const length = event.shiftKey ? COARSE_STEP_PX : STEP_PX;
      const next = moved(at, [step[0] * length, step[1] * length], toScreen);
      goOn(next);
      setSaid(words.inspect.at(percent(next[0] / map.width), percent(next[1] / map.height), classWordAt(map, next)));
    } else if (event.key === 'Enter' || event.key === ' ') {
      setCursor(at);
      if (stroke === null) use(at);
      else finish(stroke);
    } else return;
    event.preventDefault();
  };
  return {
    toScreen,
    cursor,
    stroke,
    said,
    use,
    goOn,
    press,
    lift: () => {
      if (stroke !== null) finish(stroke);
    },
    drop: () => {
      setStroke(null);
    },
  };
}

const copyOf = ([x, y]: Point): [number, number] => [x, y];
const percent = (share: number): number => Math.round(share * 100);

const middleOf = ({ widthPx, heightPx }: PaneView, toScreen: Affine): Point =>
  applyAffine(invertAffine(toScreen), [widthPx / 2, heightPx / 2]);

function moved(at: Point, [dx, dy]: Point, toScreen: Affine): Point {
  const [x, y] = applyAffine(toScreen, at);
  return applyAffine(invertAffine(toScreen), [x + dx, y + dy]);
}

function classWordAt({ width, height, codes }: ClassMap, [x, y]: Point): string {
  const [column, row] = [Math.floor(x), Math.floor(y)];
  if (column < 0 || row < 0 || column >= width || row >= height) return words.inspect.outside;
  const code = codes[row * width + column];
  if (code === NOT_MEASURED_CODE) return words.classes.notMeasured;
  const name = SURFACE_CLASSES.find((each) => CLASS_CODE[each] === code);
  return name === undefined ? words.inspect.outside : words.classes[name];
}
