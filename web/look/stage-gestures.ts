import {
  clampView,
  toPhoto,
  toStage,
  zoomAbout,
  type Size,
  type ViewTransform,
} from './view-transform.ts';

export type Point = readonly [number, number];

export interface StageHandle {
  readonly id: string;
  readonly px: Point;
  /** Cannot be dragged: a drag from there moves the photo. */
  readonly isFixed?: boolean;
}

/** How near a handle must be to be taken, CSS px. */
const REACH_TOUCH = 30;
const REACH_MOUSE = 16;
/** How far a pointer lands off what is meant, CSS px. */
export const SLACK_TOUCH = 9;
const SLACK_MOUSE = 4;
/** Movement below this is a tap, CSS px. */
const SLOP = 6;

type Gesture =
  | { readonly name: 'idle' }
  | {
      readonly name: 'tap';
      readonly start: Point;
      readonly handle: StageHandle | null;
      readonly slack: number;
    }
  | { readonly name: 'drag'; readonly start: Point; readonly handle: StageHandle }
  | { readonly name: 'pan'; readonly start: Point; readonly from: ViewTransform }
  | ({ readonly name: 'pinch'; readonly from: ViewTransform } & Spread);

/** Two fingers: the point between them and their distance. */
interface Spread {
  readonly middle: Point;
  readonly apart: number;
}

/** What fingers and mouse are at; points are CSS px of the stage. */
export interface Hands {
  readonly pointers: ReadonlyMap<number, Point>;
  readonly gesture: Gesture;
  /** Where a dragged handle is looked at closely: by the finger, on the photo. */
  readonly loupe: { readonly finger: Point; readonly px: Point } | null;
}

export const HANDS_OFF: Hands = { pointers: new Map(), gesture: { name: 'idle' }, loupe: null };

export type HandEvent =
  | { readonly type: 'down'; readonly pointer: number; readonly at: Point; readonly mouse: boolean }
  | { readonly type: 'move'; readonly pointer: number; readonly at: Point }
  | { readonly type: 'up' | 'cancel'; readonly pointer: number };

/** What lies under the hands. */
export interface Ground {
  readonly view: ViewTransform;
  readonly photo: Size;
  readonly stage: Size;
  readonly handles: readonly StageHandle[];
}

/** What a gesture asks of whoever owns the photo; places are photo pixels. */
export type StageRequest =
  | { readonly type: 'tap-handle'; readonly id: string }
  | { readonly type: 'tap-photo'; readonly px: Point; readonly slackPx: number }
  | { readonly type: 'move'; readonly id: string; readonly px: Point }
  | { readonly type: 'drop'; readonly id: string }
  | { readonly type: 'cancel-move' };

export interface Outcome {
  readonly hands: Hands;
  /** Where the photo lies now; null where it was not touched. */
  readonly view: ViewTransform | null;
  readonly requests: readonly StageRequest[];
}

/** What an event of a pointer does. Pointers that did not go down on the stage do nothing. */
export function handle(hands: Hands, event: HandEvent, ground: Ground): Outcome {
  if (event.type !== 'down' && !hands.pointers.has(event.pointer)) return only(hands);
  const pointers = new Map(hands.pointers);
  if ('at' in event) pointers.set(event.pointer, event.at);
  else pointers.delete(event.pointer);
  const now = { ...hands, pointers };
  switch (event.type) {
    case 'down':
      return putDown(now, event, ground);
    case 'move':
      return moved(now, event.at, ground);
    case 'up':
      return lifted(now, ground);
    case 'cancel': {
      const dragged = now.gesture.name === 'drag';
      return only(
        { pointers, gesture: { name: 'idle' }, loupe: null },
        dragged ? [{ type: 'cancel-move' }] : [],
      );
    }
  }
}

function only(hands: Hands, requests: readonly StageRequest[] = []): Outcome {
  return { hands, view: null, requests };
}

function putDown(
  hands: Hands,
  { at, mouse }: HandEvent & { readonly type: 'down' },
  ground: Ground,
): Outcome {
  const { pointers, gesture } = hands;
  if (pointers.size === 1) {
    return only({
      ...hands,
      gesture: {
        name: 'tap',
        start: at,
        handle: nearest(at, mouse ? REACH_MOUSE : REACH_TOUCH, ground),
        slack: mouse ? SLACK_MOUSE : SLACK_TOUCH,
      },
    });
  }
  if (pointers.size > 2) return only(hands);
  const pinch: Gesture = { name: 'pinch', from: ground.view, ...spreadOf(pointers) };
  if (gesture.name !== 'drag') return only({ ...hands, gesture: pinch });
  return only({ pointers, gesture: pinch, loupe: null }, [{ type: 'cancel-move' }]);
}

function moved(hands: Hands, at: Point, ground: Ground): Outcome {
  const { photo, stage, view } = ground;
  let { gesture } = hands;
  if (gesture.name === 'tap') {
    if (Math.hypot(at[0] - gesture.start[0], at[1] - gesture.start[1]) < SLOP) return only(hands);
    gesture =
      gesture.handle && !gesture.handle.isFixed
        ? { name: 'drag', start: gesture.start, handle: gesture.handle }
        : { name: 'pan', start: gesture.start, from: view };
  }
  const now = { ...hands, gesture };
  if (gesture.name === 'drag') {
    const { start, handle: held } = gesture;
    // The mark moves as the finger does, from where it was: it never jumps under the finger.
    const px: Point = [
      held.px[0] + (at[0] - start[0]) / view.scale,
      held.px[1] + (at[1] - start[1]) / view.scale,
    ];
    return only({ ...now, loupe: { finger: at, px } }, [{ type: 'move', id: held.id, px }]);
  }
  if (gesture.name === 'pan') {
    const { from, start } = gesture;
    const view = shifted(from, [at[0] - start[0], at[1] - start[1]]);
    return { hands: now, view: clampView(view, photo, stage), requests: [] };
  }
  if (gesture.name === 'pinch' && hands.pointers.size === 2) {
    const { from, middle, apart } = gesture;
    const next = spreadOf(hands.pointers);
    const zoomed = zoomAbout(from, next.apart / apart, middle, photo, stage);
    const by: Point = [next.middle[0] - middle[0], next.middle[1] - middle[1]];
    return { hands: now, view: clampView(shifted(zoomed, by), photo, stage), requests: [] };
  }
  return only(now);
}

function lifted({ pointers, gesture }: Hands, { view }: Ground): Outcome {
  // Of two fingers one goes on alone.
  const [rest] = gesture.name === 'pinch' && pointers.size === 1 ? pointers.values() : [];
  const hands: Hands = {
    pointers,
    gesture: rest ? { name: 'pan', start: rest, from: view } : { name: 'idle' },
    loupe: null,
  };
  if (gesture.name === 'drag') return only(hands, [{ type: 'drop', id: gesture.handle.id }]);
  if (gesture.name !== 'tap') return only(hands);
  if (gesture.handle) return only(hands, [{ type: 'tap-handle', id: gesture.handle.id }]);
  const px = toPhoto(view, gesture.start);
  return only(hands, [{ type: 'tap-photo', px, slackPx: gesture.slack / view.scale }]);
}

function nearest(point: Point, reach: number, { handles, view }: Ground): StageHandle | null {
  let best: StageHandle | null = null;
  let distance = reach;
  for (const one of handles) {
    const [x, y] = toStage(view, one.px);
    const d = Math.hypot(x - point[0], y - point[1]);
    if (d <= distance) [best, distance] = [one, d];
  }
  return best;
}

function shifted({ scale, x, y }: ViewTransform, [dx, dy]: Point): ViewTransform {
  return { scale, x: x + dx, y: y + dy };
}

function spreadOf(pointers: ReadonlyMap<number, Point>): Spread {
  const [a, b] = [...pointers.values()] as [Point, Point];
  return {
    middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
    apart: Math.max(Math.hypot(a[0] - b[0], a[1] - b[1]), 1),
  };
}
