import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Size } from './view-transform.ts';

type Point = readonly [number, number];

const DIAMETER = 148;
/** Clear of the fingertip, CSS px. */
const ABOVE = 44;

interface Props {
  readonly image: HTMLImageElement;
  readonly finger: Point;
  readonly px: Point;
  readonly stage: Size;
  readonly scale: number;
  /** Diameter of the shaft in photo pixels. */
  readonly discPx: number;
}

/** A magnified view of what the finger hides, above it, or beside it at the photo's upper edge. */
export function Loupe({ image, finger, px, stage, scale, discPx }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const enlarged = Math.min(Math.max(scale * 3, 34 / discPx), 24);

  useLayoutEffect(() => {
    const ratio = Math.min(devicePixelRatio || 1, 3);
    const element = canvas.current!;
    element.width = element.height = DIAMETER * ratio;
    const context = element.getContext('2d')!;
    const span = DIAMETER / enlarged;
    context.imageSmoothingEnabled = enlarged < 4;
    context.fillStyle = '#808080';
    context.fillRect(0, 0, element.width, element.height);
    context.drawImage(
      image,
      px[0] - span / 2,
      px[1] - span / 2,
      span,
      span,
      0,
      0,
      element.width,
      element.height,
    );
    const middle = element.width / 2;
    const radius = (discPx / 2) * enlarged * ratio;
    for (const [width, colour] of [
      [4 * ratio, 'rgba(0,0,0,.7)'],
      [1.6 * ratio, '#fff'],
    ] as const) {
      context.lineWidth = width;
      context.strokeStyle = colour;
      context.beginPath();
      context.arc(middle, middle, radius, 0, 2 * Math.PI);
      for (const [dx, dy] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        context.moveTo(middle + dx * (radius + 4 * ratio), middle + dy * (radius + 4 * ratio));
        context.lineTo(middle + dx * (radius + 16 * ratio), middle + dy * (radius + 16 * ratio));
      }
      context.stroke();
    }
  }, [image, px[0], px[1], enlarged, discPx]);

  const roomAbove = finger[1] - ABOVE - DIAMETER > 4;
  const left = roomAbove
    ? finger[0] - DIAMETER / 2
    : finger[0] > stage.width / 2
      ? finger[0] - ABOVE - DIAMETER
      : finger[0] + ABOVE;
  const top = roomAbove ? finger[1] - ABOVE - DIAMETER : finger[1] - DIAMETER / 2;
  const within = (value: number, size: number) => Math.min(Math.max(value, 4), size - DIAMETER - 4);
  return (
    <canvas
      ref={canvas}
      class="loupe"
      aria-hidden
      style={{
        width: `${DIAMETER}px`,
        height: `${DIAMETER}px`,
        left: `${within(left, stage.width)}px`,
        top: `${within(top, stage.height)}px`,
      }}
    />
  );
}
