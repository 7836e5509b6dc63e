import { useComputed, useSignal, useSignalEffect } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import {
  clampView,
  fitBox,
  fitWhole,
  toPhoto,
  toStage,
  zoomAbout,
  type Size,
  type ViewTransform,
} from './view-transform.ts';
import { Loupe } from './loupe.tsx';

type Point = readonly [number, number];
type Box = readonly [left: number, top: number, right: number, bottom: number];

export interface StageHandle {
  readonly id: string;
  readonly px: Point;
}

export interface StageLayer {
  readonly view: ViewTransform;
  readonly stage: Size;
}

/** A place of the photo and how far off it may be pointed at, both in photo pixels. */
export interface StageMiddle {
  readonly px: Point;
  readonly slackPx: number;
}

interface Props {
  readonly url: string;
  readonly label: string;
  /** What can be dragged: the nearest handle within a thumb's width of the touch is taken. */
  readonly handles: readonly StageHandle[];
  /** Parts of the photo worth seeing, px: left, top, right, bottom. The first is shown at first. */
  readonly homes?: readonly Box[];
  /** Diameter drawn in the loupe, photo pixels. */
  readonly loupePx: (px: Point) => number;
  readonly onTapHandle: (id: string) => void;
  /** With how far a tap may be off, photo pixels. */
  readonly onTapPhoto: (px: Point, slackPx: number) => void;
  readonly onMove: (id: string, px: Point) => void;
  readonly onDrop: (id: string) => void;
  readonly onCancelMove: () => void;
  readonly onSize?: (size: Size) => void;
  /** Where the middle of the stage lies on the photo, for adding by keyboard. */
  readonly middle?: { current: StageMiddle };
  readonly children: (layer: StageLayer) => ComponentChildren;
}

const REACH_TOUCH = 30;
const REACH_MOUSE = 16;
/** How far a pointer lands off what is meant, CSS px. */
const SLACK_TOUCH = 9;
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
  | {
      readonly name: 'pinch';
      readonly from: ViewTransform;
      readonly middle: Point;
      readonly apart: number;
    };

/**
 * A photo that can be panned, pinched and wheeled, with handles that can be dragged under a loupe.
 * What lies on the photo is drawn by `children` in the coordinates of the stage.
 */
export function PhotoStage(props: Props) {
  const box = useRef<HTMLDivElement>(null);
  const image = useRef<HTMLImageElement>(null);
  const photo = useSignal<Size | null>(null);
  const stage = useSignal<Size>({ width: 0, height: 0 });
  const view = useSignal<ViewTransform>({ scale: 1, x: 0, y: 0 });
  /** False until photo and stage are both measured: before that the photo would flash at full size. */
  const placed = useSignal(false);
  const touched = useRef(false);
  const loupeAt = useSignal<{ finger: Point; px: Point } | null>(null);
  const pointers = useRef(new Map<number, Point>());
  const gesture = useRef<Gesture>({ name: 'idle' });
  const latest = useRef(props);
  latest.current = props;

  const shown = useRef(0);
  const goHome = (which: number) => {
    const size = photo.peek();
    if (!size || stage.peek().width === 0) return;
    const homes = latest.current.homes ?? [];
    shown.current = homes.length > 0 ? which % homes.length : 0;
    const home = homes[shown.current];
    touched.current = false;
    placed.value = true;
    view.value = home
      ? clampView(fitBox(home, stage.peek()), size, stage.peek())
      : fitWhole(size, stage.peek());
  };

  useEffect(() => {
    const observer = new ResizeObserver(([entry]) => {
      const { width, height } = entry!.contentRect;
      if (width > 0) stage.value = { width, height };
    });
    observer.observe(box.current!);
    return () => observer.disconnect();
  }, []);
  // Before anything is painted: the photo would jump a frame after its stage has changed.
  useLayoutEffect(() => {
    if (!touched.current) goHome(shown.current);
  }, [photo.value, stage.value, props.homes?.at(-1)?.join()]);
  useSignalEffect(() => {
    if (!photo.value) return;
    const { width, height } = stage.value;
    const ref = latest.current.middle;
    if (!ref) return;
    const px = toPhoto(view.value, [width / 2, height / 2]);
    ref.current = { px, slackPx: SLACK_TOUCH / view.value.scale };
  });

  const at = (event: PointerEvent | WheelEvent): Point => {
    const rect = box.current!.getBoundingClientRect();
    return [event.clientX - rect.left, event.clientY - rect.top];
  };
  const nearest = (point: Point, reach: number): StageHandle | null => {
    let best: StageHandle | null = null;
    let distance = reach;
    for (const handle of latest.current.handles) {
      const [x, y] = toStage(view.peek(), handle.px);
      const d = Math.hypot(x - point[0], y - point[1]);
      if (d <= distance) [best, distance] = [handle, d];
    }
    return best;
  };
  const zoom = (factor: number, about?: Point) => {
    const size = photo.peek();
    if (!size) return;
    touched.current = true;
    const { width, height } = stage.peek();
    view.value = zoomAbout(
      view.peek(),
      factor,
      about ?? [width / 2, height / 2],
      size,
      stage.peek(),
    );
  };

  const pinchStart = (): Gesture => {
    const [a, b] = [...pointers.current.values()] as [Point, Point];
    return {
      name: 'pinch',
      from: view.peek(),
      middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
      apart: Math.max(Math.hypot(a[0] - b[0], a[1] - b[1]), 1),
    };
  };

  const onPointerDown = (event: PointerEvent) => {
    if (!photo.peek() || event.button > 0) return;
    if ((event.target as Element).closest('button')) return;
    box.current!.setPointerCapture(event.pointerId);
    const point = at(event);
    pointers.current.set(event.pointerId, point);
    if (pointers.current.size === 2) {
      if (gesture.current.name === 'drag') {
        loupeAt.value = null;
        latest.current.onCancelMove();
      }
      gesture.current = pinchStart();
    } else if (pointers.current.size === 1) {
      const mouse = event.pointerType === 'mouse';
      gesture.current = {
        name: 'tap',
        start: point,
        handle: nearest(point, mouse ? REACH_MOUSE : REACH_TOUCH),
        slack: mouse ? SLACK_MOUSE : SLACK_TOUCH,
      };
    }
  };

  const onPointerMove = (event: PointerEvent) => {
    if (!pointers.current.has(event.pointerId)) return;
    const point = at(event);
    pointers.current.set(event.pointerId, point);
    let now = gesture.current;
    if (now.name === 'tap') {
      if (Math.hypot(point[0] - now.start[0], point[1] - now.start[1]) < SLOP) return;
      now = gesture.current = now.handle
        ? { name: 'drag', start: now.start, handle: now.handle }
        : { name: 'pan', start: now.start, from: view.peek() };
    }
    if (now.name === 'drag') {
      const { scale } = view.peek();
      // The mark moves as the finger does, from where it was: it never jumps under the finger.
      const px: Point = [
        now.handle.px[0] + (point[0] - now.start[0]) / scale,
        now.handle.px[1] + (point[1] - now.start[1]) / scale,
      ];
      latest.current.onMove(now.handle.id, px);
      loupeAt.value = { finger: point, px };
    } else if (now.name === 'pan') {
      touched.current = true;
      const { scale, x, y } = now.from;
      view.value = clampView(
        { scale, x: x + point[0] - now.start[0], y: y + point[1] - now.start[1] },
        photo.peek()!,
        stage.peek(),
      );
    } else if (now.name === 'pinch' && pointers.current.size === 2) {
      touched.current = true;
      const next = pinchStart() as Gesture & { name: 'pinch' };
      const zoomed = zoomAbout(
        now.from,
        next.apart / now.apart,
        now.middle,
        photo.peek()!,
        stage.peek(),
      );
      view.value = clampView(
        {
          scale: zoomed.scale,
          x: zoomed.x + next.middle[0] - now.middle[0],
          y: zoomed.y + next.middle[1] - now.middle[1],
        },
        photo.peek()!,
        stage.peek(),
      );
    }
  };

  const onPointerUp = (event: PointerEvent) => {
    if (!pointers.current.delete(event.pointerId)) return;
    const now = gesture.current;
    loupeAt.value = null;
    if (now.name === 'drag') latest.current.onDrop(now.handle.id);
    else if (now.name === 'tap') {
      if (now.handle) latest.current.onTapHandle(now.handle.id);
      else
        latest.current.onTapPhoto(toPhoto(view.peek(), now.start), now.slack / view.peek().scale);
    }
    gesture.current = { name: 'idle' };
    if (now.name === 'pinch' && pointers.current.size === 1) {
      const [rest] = [...pointers.current.values()];
      gesture.current = { name: 'pan', start: rest!, from: view.peek() };
    }
  };

  const onPointerCancel = (event: PointerEvent) => {
    if (!pointers.current.delete(event.pointerId)) return;
    if (gesture.current.name === 'drag') latest.current.onCancelMove();
    loupeAt.value = null;
    gesture.current = { name: 'idle' };
  };

  // Passive listeners could not keep the browser from making its own of a gesture.
  useEffect(() => {
    const element = box.current!;
    const onWheel = (event: WheelEvent) => {
      event.preventDefault();
      const step = event.deltaMode === 1 ? event.deltaY * 16 : event.deltaY;
      zoom(Math.exp(-step * (event.ctrlKey ? 0.01 : 0.0018)), at(event));
    };
    // A drag that ends in motion counts as a fling, and the browser would take the tap that
    // follows at once, on 'Undo' for one, as a wish to stop it.
    const onTouchMove = (event: TouchEvent) => {
      if (event.cancelable) event.preventDefault();
    };
    // A finger that rests before it moves would open the menu of a picture.
    const onContextMenu = (event: Event) => {
      if (pointers.current.size > 0) event.preventDefault();
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    element.addEventListener('touchmove', onTouchMove, { passive: false });
    element.addEventListener('contextmenu', onContextMenu);
    return () => {
      element.removeEventListener('wheel', onWheel);
      element.removeEventListener('touchmove', onTouchMove);
      element.removeEventListener('contextmenu', onContextMenu);
    };
  }, []);

  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === '+' || event.key === '=') zoom(1.4);
    else if (event.key === '-') zoom(1 / 1.4);
    else if (event.key === '0') goHome(shown.current + 1);
    else return;
    event.preventDefault();
  };

  const imageStyle = useComputed(() => {
    const { scale, x, y } = view.value;
    return `transform: translate(${x}px, ${y}px) scale(${scale}); image-rendering: ${scale > 3 ? 'pixelated' : 'auto'}; visibility: ${placed.value ? 'visible' : 'hidden'}`;
  });

  return (
    <div
      ref={box}
      class="stage"
      role="group"
      aria-label={props.label}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onPointerUp={onPointerUp}
      onPointerCancel={onPointerCancel}
      onKeyDown={onKeyDown}
    >
      <img
        ref={image}
        class="stage-photo"
        src={props.url}
        alt=""
        draggable={false}
        style={imageStyle}
        onLoad={(event) => {
          const { naturalWidth: width, naturalHeight: height } = event.currentTarget;
          photo.value = { width, height };
          props.onSize?.({ width, height });
        }}
      />
      {photo.value && stage.value.width > 0 && (
        <svg
          class="stage-drawing"
          width={stage.value.width}
          height={stage.value.height}
          viewBox={`0 0 ${stage.value.width} ${stage.value.height}`}
        >
          {props.children({ view: view.value, stage: stage.value })}
        </svg>
      )}
      {loupeAt.value && image.current && (
        <Loupe
          image={image.current}
          finger={loupeAt.value.finger}
          px={loupeAt.value.px}
          stage={stage.value}
          scale={view.value.scale}
          discPx={props.loupePx(loupeAt.value.px)}
        />
      )}
      <div class="stage-zoom" role="group" aria-label="Zoom">
        <button type="button" aria-label="Zoom in" onClick={() => zoom(1.6)}>
          <svg viewBox="0 0 24 24" aria-hidden>
            <path d="M12 5v14M5 12h14" />
          </svg>
        </button>
        <button type="button" aria-label="Zoom out" onClick={() => zoom(1 / 1.6)}>
          <svg viewBox="0 0 24 24" aria-hidden>
            <path d="M5 12h14" />
          </svg>
        </button>
        <button
          type="button"
          aria-label="Show the arrows or the whole face"
          onClick={() => goHome(touched.current ? shown.current : shown.current + 1)}
        >
          <svg viewBox="0 0 24 24" aria-hidden>
            <path d="M5 9V5h4M15 5h4v4M19 15v4h-4M9 19H5v-4" />
          </svg>
        </button>
      </div>
    </div>
  );
}
