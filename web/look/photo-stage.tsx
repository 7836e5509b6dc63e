import { useComputed, useSignal, useSignalEffect } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import {
  handle,
  HANDS_OFF,
  SLACK_TOUCH,
  type HandEvent,
  type Hands,
  type Point,
  type StageHandle,
} from './stage-gestures.ts';
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
import { say } from '../state/words.ts';

type Box = readonly [left: number, top: number, right: number, bottom: number];

export interface StageLayer {
  readonly view: ViewTransform;
  readonly stage: Size;
}

/** What is drawn of a handle reaches so far around it, CSS px. */
const HANDLE_PX = 14;

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

/**
 * A photo that can be panned, pinched and wheeled, with handles that can be dragged under a loupe.
 * What lies on the photo is drawn by `children` in the coordinates of the stage.
 */
export function PhotoStage(props: Props) {
  const box = useRef<HTMLDivElement>(null);
  const image = useRef<HTMLImageElement>(null);
  const zoomBox = useRef<HTMLDivElement>(null);
  const photo = useSignal<Size | null>(null);
  const stage = useSignal<Size>({ width: 0, height: 0 });
  const view = useSignal<ViewTransform>({ scale: 1, x: 0, y: 0 });
  /** False until photo and stage are both measured: before that the photo would flash at full size. */
  const placed = useSignal(false);
  const touched = useRef(false);
  const loupeAt = useSignal<Hands['loupe']>(null);
  const hands = useRef<Hands>(HANDS_OFF);
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
    const fitted = (room: Size) =>
      home ? clampView(fitBox(home, room), size, stage.peek()) : fitWhole(size, room);
    const whole = fitted(stage.peek());
    view.value = isCovered(whole) ? fitted(besideZoom()) : whole;
  };
  /** Whether something to be tapped would lie under the buttons on the photo. */
  const isCovered = (as: ViewTransform): boolean => {
    const { offsetLeft, offsetTop } = zoomBox.current!;
    return latest.current.handles.some(({ px }) => {
      const [x, y] = toStage(as, px);
      return x > offsetLeft - HANDLE_PX && y > offsetTop - HANDLE_PX;
    });
  };
  /** The stage without the strip that those buttons take: at the side, or where they lie in a row, below. */
  const besideZoom = (): Size => {
    const { offsetLeft, offsetTop, offsetWidth, offsetHeight } = zoomBox.current!;
    const { width, height } = stage.peek();
    return offsetWidth > offsetHeight
      ? { width, height: offsetTop - HANDLE_PX }
      : { width: offsetLeft - HANDLE_PX, height };
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

  const feel = (event: HandEvent) => {
    const size = photo.peek();
    if (!size) return;
    const { handles } = latest.current;
    const ground = { view: view.peek(), photo: size, stage: stage.peek(), handles };
    const outcome = handle(hands.current, event, ground);
    hands.current = outcome.hands;
    if (outcome.view) {
      touched.current = true;
      view.value = outcome.view;
    }
    for (const request of outcome.requests) {
      const { onTapHandle, onTapPhoto, onMove, onDrop, onCancelMove } = latest.current;
      if (request.type === 'tap-handle') onTapHandle(request.id);
      else if (request.type === 'tap-photo') onTapPhoto(request.px, request.slackPx);
      else if (request.type === 'move') onMove(request.id, request.px);
      else if (request.type === 'drop') onDrop(request.id);
      else onCancelMove();
    }
    loupeAt.value = outcome.hands.loupe;
  };
  const onPointerDown = (event: PointerEvent) => {
    if (!photo.peek() || event.button > 0) return;
    if ((event.target as Element).closest('button')) return;
    box.current!.setPointerCapture(event.pointerId);
    const mouse = event.pointerType === 'mouse';
    feel({ type: 'down', pointer: event.pointerId, at: at(event), mouse });
  };
  const onPointerMove = (event: PointerEvent) =>
    feel({ type: 'move', pointer: event.pointerId, at: at(event) });
  const onPointerUp = (event: PointerEvent) => feel({ type: 'up', pointer: event.pointerId });
  const onPointerCancel = (event: PointerEvent) =>
    feel({ type: 'cancel', pointer: event.pointerId });

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
      if (hands.current.pointers.size > 0) event.preventDefault();
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
      <div ref={zoomBox} class="stage-zoom" role="group" aria-label={say('Zoom')}>
        <button type="button" aria-label={say('Zoom in')} onClick={() => zoom(1.6)}>
          <svg viewBox="0 0 24 24" aria-hidden>
            <path d="M12 5v14M5 12h14" />
          </svg>
        </button>
        <button type="button" aria-label={say('Zoom out')} onClick={() => zoom(1 / 1.6)}>
          <svg viewBox="0 0 24 24" aria-hidden>
            <path d="M5 12h14" />
          </svg>
        </button>
        <button
          type="button"
          aria-label={say('Show the arrows or the whole face')}
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
