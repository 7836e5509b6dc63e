/** Where the photo lies on the stage: stage = photo * scale + (x, y), all in CSS pixels. */
export interface ViewTransform {
  readonly scale: number;
  readonly x: number;
  readonly y: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

type Point = readonly [number, number];

/** The photo's pixels are shown at most this large. */
const MAX_PX = 24;

/** The whole photo on the stage. */
export function fitWhole(photo: Size, stage: Size): ViewTransform {
  return fitBox([0, 0, photo.width, photo.height], stage);
}

/** A part of the photo (left, top, right, bottom) centred on the stage. */
export function fitBox(
  [left, top, right, bottom]: readonly [number, number, number, number],
  stage: Size,
): ViewTransform {
  const scale = Math.min(stage.width / (right - left), stage.height / (bottom - top));
  return {
    scale,
    x: stage.width / 2 - ((left + right) / 2) * scale,
    y: stage.height / 2 - ((top + bottom) / 2) * scale,
  };
}

/** Zooms by a factor about a point of the stage. */
export function zoomAbout(
  view: ViewTransform,
  factor: number,
  [x, y]: Point,
  photo: Size,
  stage: Size,
): ViewTransform {
  const least = fitWhole(photo, stage).scale * 0.8;
  const scale = Math.min(Math.max(view.scale * factor, least), MAX_PX);
  const by = scale / view.scale;
  return clampView({ scale, x: x - (x - view.x) * by, y: y - (y - view.y) * by }, photo, stage);
}

/** Keeps the middle of the stage on the photo, so that it can never be lost. */
export function clampView(view: ViewTransform, photo: Size, stage: Size): ViewTransform {
  const within = (offset: number, photoSize: number, stageSize: number) =>
    Math.min(Math.max(offset, stageSize / 2 - photoSize * view.scale), stageSize / 2);
  return {
    scale: view.scale,
    x: within(view.x, photo.width, stage.width),
    y: within(view.y, photo.height, stage.height),
  };
}

export function toPhoto(view: ViewTransform, [x, y]: Point): [number, number] {
  return [(x - view.x) / view.scale, (y - view.y) / view.scale];
}

export function toStage(view: ViewTransform, [x, y]: Point): [number, number] {
  return [x * view.scale + view.x, y * view.scale + view.y];
}
