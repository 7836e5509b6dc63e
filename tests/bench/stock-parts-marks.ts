import { FACES, outerRadiusMm, type FaceId } from '../../src/face/faces.ts';
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
    const mmPerPx = outerRadiusMm(FACES[faceId]) / radius;
    const full = keep(new cv.Mat());
    cv.cvtColor(source, full, cv.COLOR_RGBA2GRAY as number);
    // The type definitions leave the detector out; the build has it.
    const { SimpleBlobDetector } = cv as unknown as {
      SimpleBlobDetector: new () => {
        detect: (image: unknown, points: unknown) => void;
        delete: () => void;
      };
    };
    const detector = keep(new SimpleBlobDetector());
    const points = keep(new cv.KeyPointVector());
    detector.detect(full, points);
    const marks: Mark[] = [];
    for (let i = 0; i < points.size(); i++) {
      const { pt } = points.get(i) as { pt: { x: number; y: number } };
      const mm = [(pt.x * scale - x) * mmPerPx, (y - pt.y * scale) * mmPerPx] as const;
      if (Math.hypot(mm[0], mm[1]) > outerRadiusMm(FACES[faceId])) continue;
      marks.push({
        id: `m${i + 1}`,
        spot: 0,
        mm,
        px: [pt.x + 0.5, pt.y + 0.5],
        sdMm: 1,
        state: 'hole',
        age: 'unknown',
        kind: 'unknown',
        confidence: 0.5,
      });
    }
    return marks;
  });
}
