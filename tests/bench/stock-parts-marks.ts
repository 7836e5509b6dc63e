import type { PhotoPx, SpotMm } from '../../src/face/coordinates.ts';
import { FACES, outerRadiusMm, type FaceId } from '../../src/face/faces.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { flatToSpot } from '../../src/fit/flat/flatten.ts';
import { sheetToPhoto, spotToSheet } from '../../src/fit/camera/project.ts';
import { viewSpot } from '../../src/marks/flat-view/spot-view.ts';
import type { Mark } from '../../src/marks/mark.ts';
import type { OpenCv } from '../../src/raster/load-open-cv.ts';
import type { Raster } from '../../src/raster/raster.ts';
import { withMats } from '../../src/raster/with-mats.ts';

const WORK_PX = 1000;

/**
 * What stock parts give in an afternoon: OpenCV's Hough circles for the face (its largest circle
 * is taken for the outermost ring, seen square on) and its blob detector for holes.
 */
export function stockPartsMarks(photo: Raster, faceId: FaceId, cv: OpenCv): Mark[] {
  const { centrePx, radiusPx } = stockFace(photo, cv);
  const radiusMm = outerRadiusMm(FACES[faceId]);
  return stockBlobs(photo, cv).flatMap((px, i) => {
    const mm: SpotMm = [
      ((px[0] - centrePx[0]) * radiusMm) / radiusPx,
      ((centrePx[1] - px[1]) * radiusMm) / radiusPx,
    ];
    return Math.hypot(...mm) > radiusMm ? [] : [holeMark(i, 0, mm, px)];
  });
}

/** The stock blob detector on the face as our fit rectifies it: detection alone is compared. */
export function stockBlobsOnFit(photo: Raster, fit: FaceFit, shaftMm: number, cv: OpenCv): Mark[] {
  return fit.spotCentresMm.flatMap((_, spot) => {
    const { flat, face } = viewSpot(photo, fit, spot, shaftMm);
    return stockBlobs(flat.raster, cv).flatMap((at, i) => {
      const mm = flatToSpot(flat, at);
      if (Math.hypot(...mm) > outerRadiusMm(face)) return [];
      return [holeMark(i, spot, mm, sheetToPhoto(fit, spotToSheet(fit, spot, mm)))];
    });
  });
}

function holeMark(index: number, spot: number, mm: SpotMm, px: PhotoPx): Mark {
  return {
    id: `m${spot}-${index + 1}`,
    spot,
    mm,
    px,
    sdMm: 1,
    state: 'hole',
    age: 'unknown',
    kind: 'unknown',
    confidence: 0.5,
  };
}

/** Centre and radius of the largest circle. */
function stockFace(photo: Raster, cv: OpenCv): { centrePx: PhotoPx; radiusPx: number } {
  return withMats(cv, (keep) => {
    const source = keep(new cv.Mat(photo.height, photo.width, cv.CV_8UC4 as number));
    source.data.set(photo.data);
    const scale = Math.min(1, WORK_PX / Math.max(photo.width, photo.height));
    const small = keep(new cv.Mat());
    cv.resize(source, small, new cv.Size(0, 0), scale, scale, cv.INTER_AREA as number);
    const grey = keep(new cv.Mat());
    cv.cvtColor(small, grey, cv.COLOR_RGBA2GRAY as number);
    const soft = keep(new cv.Mat());
    cv.medianBlur(grey, soft, 5);
    const circles = keep(new cv.Mat());
    const side = Math.min(photo.width, photo.height) * scale;
    cv.HoughCircles(
      soft,
      circles,
      cv.HOUGH_GRADIENT as number,
      2,
      side / 10,
      120,
      80,
      Math.round(side * 0.1),
      Math.round(side * 0.6),
    );
    if (circles.cols === 0) throw new Error('No circle.');
    let [x, y, radius] = [0, 0, 0];
    const found = circles.data32F;
    for (let i = 0; 3 * i < found.length; i++) {
      if (found[3 * i + 2]! <= radius) continue;
      [x, y, radius] = [found[3 * i]!, found[3 * i + 1]!, found[3 * i + 2]!];
    }
    return { centrePx: [x / scale, y / scale], radiusPx: radius / scale };
  });
}

/** Middles of dark blobs, by the detector's own settings. */
function stockBlobs(picture: Raster, cv: OpenCv): PhotoPx[] {
  return withMats(cv, (keep) => {
    const source = keep(new cv.Mat(picture.height, picture.width, cv.CV_8UC4 as number));
    source.data.set(picture.data);
    const grey = keep(new cv.Mat());
    cv.cvtColor(source, grey, cv.COLOR_RGBA2GRAY as number);
    // The type definitions leave the detector out; the build has it.
    const { SimpleBlobDetector } = cv as unknown as {
      SimpleBlobDetector: new () => {
        detect: (image: unknown, points: unknown) => void;
        delete: () => void;
      };
    };
    const detector = keep(new SimpleBlobDetector());
    const points = keep(new cv.KeyPointVector());
    detector.detect(grey, points);
    return Array.from({ length: points.size() }, (_, i): PhotoPx => {
      const { pt } = points.get(i) as { pt: { x: number; y: number } };
      return [pt.x + 0.5, pt.y + 0.5];
    });
  });
}
