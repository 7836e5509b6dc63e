import { parseArgs } from 'node:util';
import { CATEGORIES, drawSet } from './draw-set.ts';
import type { Category } from './scene.ts';

/*
 * Draws a set of photos with exact truth, by rules of its own:
 *   npx tsx tests/rendering/render-set.ts OUT_DIR [PER_CATEGORY] [FIRST_SEED] [--category NAME ...]
 * Without a category, all of them are drawn.
 */
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
await drawSet(outDir, {
  categories: wanted as Category[],
  perCategory: Number(perCategory),
  firstSeed: Number(firstSeed),
  onDrawn: (name) => console.log(name),
});
