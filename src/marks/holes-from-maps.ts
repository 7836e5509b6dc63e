import type { SpotView } from './hand-made/spot-view.ts';
import { handMadeHoles } from './hand-made/hand-made-holes.ts';
import type { HoleCandidate } from './hole-candidate.ts';
import type { EvidenceMaps } from './network/evidence-maps.ts';

export function holesFromMaps(view: SpotView, _maps: EvidenceMaps): HoleCandidate[] {
  return handMadeHoles(view);
}
