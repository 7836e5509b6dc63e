import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { livedScene, otherView } from './lived-scene.ts';
import { renderPhoto } from './render-photo.ts';
import { LIVED, TIDY, type Category, type LivedCategory, type Scene } from './scene.ts';
import { tidyScene } from './tidy-scene.ts';

/*
 * Draws a set of photos with exact truth, by rules of its own:
 *   npx tsx tests/rendering/render-set.ts OUT_DIR [PER_CATEGORY] [FIRST_SEED] [--category NAME ...]
 * Without a category, all of them are drawn.
 */
const CATEGORIES: readonly Category[] = [...TIDY, ...LIVED];
const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { category: { type: 'string', multiple: true } },
});
const [outDir, perCategory = '4', firstSeed = '1'] = positionals;
const wanted = values.category ?? [...CATEGORIES];
if (!outDir || !wanted.every((name) => CATEGORIES.includes(name as Category))) {
  console.error(
    'usage: render-set.ts OUT_DIR [PER_CATEGORY] [FIRST_SEED] [--category NAME ...]\n' +
      `categories: ${CATEGORIES.join(', ')}`,
  );
  process.exit(2);
}
mkdirSync(outDir, { recursive: true });
const rows: string[] = ['photo,also,face,shaft_mm,fletched,bare,hand,distance_m'];
for (const category of wanted as Category[]) {
  for (let i = 0; i < Number(perCategory); i++) {
    const seed = Number(firstSeed) + i;
    const scene = sceneOf(seed, category);
    const name = `${category}-${String(seed).padStart(3, '0')}`;
    const { jpeg, truth } = await renderPhoto(scene, `${name}.jpg`);
    writeFileSync(join(outDir, `${name}.jpg`), jpeg);
    const also = category === 'views' ? `${name}-also.jpg` : null;
    if (also !== null) {
      const second = await renderPhoto(otherView(scene, seed), also);
      writeFileSync(join(outDir, also), second.jpeg);
      // What one of the two shows can be found.
      truth.shots.forEach((shot, i) => (shot.visible ||= second.truth.shots[i]!.visible));
    }
    writeFileSync(join(outDir, `${name}.json`), JSON.stringify({ ...truth, also }));
    const count = (kind: string) => truth.shots.filter((shot) => shot.kind === kind).length;
    rows.push(
      [
        `${name}.jpg`,
        also ?? '',
        scene.face,
        scene.saidShaftMm ?? '',
        count('fletched'),
        count('bare'),
        scene.hand,
        scene.distanceM,
      ].join(','),
    );
    console.log(name);
  }
}
writeFileSync(join(outDir, 'manifest.csv'), rows.join('\n') + '\n');

function sceneOf(seed: number, category: Category): Scene {
  const lived = (LIVED as readonly string[]).includes(category);
  if (lived)
    return livedScene(
      seed + 1000 * LIVED.indexOf(category as LivedCategory),
      category as LivedCategory,
    );
  return tidyScene(seed + category.length * 1000, category as Exclude<Category, LivedCategory>);
}
