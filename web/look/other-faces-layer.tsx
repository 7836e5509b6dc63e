import type { SeenFace } from './face-at.ts';
import { toStage, type ViewTransform } from './view-transform.ts';
import { say } from '../state/words.ts';

interface Props {
  readonly faces: readonly SeenFace[];
  readonly view: ViewTransform;
  readonly onPick: (face: SeenFace) => void;
}

/** Other faces in the photo, outlined, each a button that has it read instead. */
export function OtherFacesLayer({ faces, view, onPick }: Props) {
  return (
    <g class="other-faces">
      {faces.map((face, i) => {
        const [x, y] = toStage(view, face.centrePx);
        const title = say('Read this face');
        return (
          <g
            key={i}
            class="other-face"
            role="button"
            tabindex={0}
            aria-label={title}
            onClick={() => onPick(face)}
            onKeyDown={(event) => {
              if (event.key !== 'Enter' && event.key !== ' ') return;
              event.preventDefault();
              onPick(face);
            }}
          >
            <circle cx={x} cy={y} r={face.radiusPx * view.scale} />
            <rect x={x - 74} y={y - 20} width={148} height={40} rx={20} />
            <text x={x} y={y + 6} text-anchor="middle">
              {title}
            </text>
          </g>
        );
      })}
    </g>
  );
}
