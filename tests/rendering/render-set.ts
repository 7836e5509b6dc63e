import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { renderPhoto } from './render-photo.ts';
import { randomScene, type Scene } from './scene.ts';

/*
 * Draws a set of photos with exact truth, by rules of its own:
 *   npx tsx tests/rendering/render-set.ts OUT_DIR [PER_CATEGORY] [FIRST_SEED]
 */
const [outDir, perCategory = '4', firstSeed = '1'] = process.argv.slice(2);
if (!outDir) {
  console.error('usage: render-set.ts OUT_DIR [PER_CATEGORY] [FIRST_SEED]');
  process.exit(2);
}
mkdirSync(outDir, { recursive: true });
const rows: string[] = ['photo,face,shaft_mm,fletched,bare,hand,distance_m'];
for (const category of ['fresh', 'used', 'standing', 'hard'] satisfies Scene['category'][]) {
  for (let i = 0; i < Number(perCategory); i++) {
    const seed = Number(firstSeed) + i;
    const scene = randomScene(seed + category.length * 1000, category);
    const name = `${category}-${String(seed).padStart(3, '0')}`;
    const { jpeg, truth } = await renderPhoto(scene, `${name}.jpg`);
    writeFileSync(join(outDir, `${name}.jpg`), jpeg);
    writeFileSync(join(outDir, `${name}.json`), JSON.stringify(truth));
    const count = (kind: string) => truth.shots.filter((shot) => shot.kind === kind).length;
    rows.push(
      [
        `${name}.jpg`,
        scene.face,
        scene.shaftMm,
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
