import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { livedScene, otherView } from './lived-scene.ts';
import { renderPhoto } from './render-photo.ts';
import { LIVED, TIDY, type Category, type LivedCategory, type Scene } from './scene.ts';
import { tidyScene } from './tidy-scene.ts';

export const CATEGORIES: readonly Category[] = [...TIDY, ...LIVED];

export interface SetToDraw {
  readonly categories: readonly Category[];
  readonly perCategory: number;
  readonly firstSeed: number;
  readonly onDrawn?: (name: string) => void;
}

/** Draws photos with their truth, and a manifest to read them by, into a folder. */
export async function drawSet(
  folder: string,
  { categories, perCategory, firstSeed, onDrawn }: SetToDraw,
): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const rows: string[] = ['photo,also,face,shaft_mm,fletched,bare,hand,distance_m'];
  for (const category of categories) {
    for (let seed = firstSeed; seed < firstSeed + perCategory; seed++) {
      const scene = sceneOf(seed, category);
      const name = `${category}-${String(seed).padStart(3, '0')}`;
      const { jpeg, truth } = await renderPhoto(scene, `${name}.jpg`);
      writeFileSync(join(folder, `${name}.jpg`), jpeg);
      const also = category === 'views' ? `${name}-also.jpg` : null;
      if (also !== null) {
        const second = await renderPhoto(otherView(scene, seed), also);
        writeFileSync(join(folder, also), second.jpeg);
        // What one of the two shows can be found.
        truth.shots.forEach((shot, i) => (shot.visible ||= second.truth.shots[i]!.visible));
      }
      writeFileSync(join(folder, `${name}.json`), JSON.stringify({ ...truth, also }));
      const count = (kind: string) => truth.shots.filter((shot) => shot.kind === kind).length;
      rows.push(
        [
          truth.photo,
          also ?? '',
          scene.face,
          scene.saidShaftMm ?? '',
          count('fletched'),
          count('bare'),
          scene.hand,
          scene.distanceM,
        ].join(','),
      );
      onDrawn?.(name);
    }
  }
  writeFileSync(join(folder, 'manifest.csv'), rows.join('\n') + '\n');
}

function sceneOf(seed: number, category: Category): Scene {
  const lived = LIVED.indexOf(category as LivedCategory);
  return lived >= 0
    ? livedScene(seed + 1000 * lived, category as LivedCategory)
    : tidyScene(seed + category.length * 1000, category as Exclude<Category, LivedCategory>);
}
