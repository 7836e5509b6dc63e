import type { PlainText } from '../../src/words/words.ts';
import { Rich } from '../parts/rich.tsx';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { FACES, outerRadiusMm, USUAL_FACE, type FaceId } from '../../src/face/faces.ts';
import { readEnd } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { PhotoStage } from './photo-stage.tsx';
import { toStage, type Size } from './view-transform.ts';
import { say } from '../state/words.ts';

interface Props {
  readonly end: OpenEnd;
  readonly onDone: () => void;
}

type Point = readonly [number, number];
type HandleId = 'centre' | 'ring-1' | 'ring-2';

const NAMES: Readonly<Record<HandleId, PlainText>> = {
  centre: 'Middle of the face',
  'ring-1': 'First point on the ring',
  'ring-2': 'Second point on the ring',
};

/** Three taps that tell where the face lies: its middle and two points on one ring. */
export function PlaceFace({ end, onDone }: Props) {
  const size = useSignal<Size | null>(null);
  const points = useSignal<Readonly<Record<HandleId, Point>> | null>(null);
  const choice = end.settings.value.face;
  const faceId: FaceId = choice === 'auto' ? (end.reading.value?.face ?? USUAL_FACE) : choice;
  const face = FACES[faceId];
  const radius = useSignal(outerRadiusMm(face));

  useEffect(() => {
    if (!size.value || points.value) return;
    const { width, height } = size.value;
    const known = end.reading.value?.fit.spots[0];
    const ring = known?.rings.find((candidate) => candidate.radiusMm === radius.value);
    points.value =
      known && ring
        ? { centre: known.centrePx, 'ring-1': ring.px[0]!, 'ring-2': ring.px[18]! }
        : {
            centre: [width / 2, height / 2],
            'ring-1': [width * 0.75, height / 2],
            'ring-2': [width / 2, height / 2 - width * 0.25],
          };
  }, [size.value]);

  const ids = Object.keys(NAMES) as HandleId[];
  const handles = points.value ? ids.map((id) => ({ id, px: points.value![id] })) : [];
  const moveTo = (id: string, px: Point) => {
    if (points.value) points.value = { ...points.value, [id]: px };
  };

  return (
    <main class="end placing">
      <section class="end-photo" aria-label={say('Photo')}>
        <PhotoStage
          url={end.url}
          label={say(
            'Photo with three points to place: the middle of the face and two points on one ring.',
          )}
          handles={handles}
          loupePx={() => 8}
          onTapHandle={() => {}}
          onTapPhoto={(px) => {
            const nearest = [...handles].sort(
              (a, b) =>
                Math.hypot(a.px[0] - px[0], a.px[1] - px[1]) -
                Math.hypot(b.px[0] - px[0], b.px[1] - px[1]),
            )[0];
            if (nearest) moveTo(nearest.id, px);
          }}
          onMove={moveTo}
          onDrop={() => {}}
          onCancelMove={() => {}}
          onSize={(found) => (size.value = found)}
        >
          {({ view }) =>
            handles.map(({ id, px }) => {
              const [x, y] = toStage(view, px);
              return (
                <g
                  key={id}
                  class={`place place-${id === 'centre' ? 'centre' : 'ring'}`}
                  role="button"
                  tabindex={0}
                  aria-label={say('{point}: arrow keys move it', { point: say(NAMES[id]) })}
                  transform={`translate(${x} ${y})`}
                  onKeyDown={(event) => {
                    const by = event.shiftKey ? 20 : 2;
                    const step = (
                      {
                        ArrowLeft: [-by, 0],
                        ArrowRight: [by, 0],
                        ArrowUp: [0, -by],
                        ArrowDown: [0, by],
                      } as Record<string, Point | undefined>
                    )[event.key];
                    if (!step) return;
                    event.preventDefault();
                    moveTo(id, [px[0] + step[0], px[1] + step[1]]);
                  }}
                >
                  <circle class="place-casing" r={16} />
                  <circle class="place-line" r={16} />
                  <path class="place-casing" d="M-24 0h16M8 0h16M0 -24v16M0 8v16" />
                  <path class="place-line" d="M-24 0h16M8 0h16M0 -24v16M0 8v16" />
                </g>
              );
            })
          }
        </PhotoStage>
      </section>
      <section class="end-side" aria-label={say('Placing the face')}>
        <div class="panel placing-panel">
          <h1>{say('Place the face by hand')}</h1>
          <ol>
            <li>
              <Rich>{say('Drag <b>the cross</b> to the middle of the face.')}</Rich>
            </li>
            <li>
              <Rich>{say('Drag <b>the two rings</b> onto one line, a quarter turn apart.')}</Rich>
            </li>
            <li>{say('Say which line that is.')}</li>
          </ol>
          <label class="field">
            <span class="field-name">{say('The points lie on the outer edge of zone')}</span>
            <select
              value={String(radius.value)}
              onChange={(event) => (radius.value = Number(event.currentTarget.value))}
            >
              {face.zones.map((zone) => (
                <option key={zone.value} value={String(zone.outerRadiusMm)}>
                  {zone.value} ({say(zone.ink)})
                </option>
              ))}
            </select>
            <span class="field-note">{say('On the {face} face.', { face: say(face.name) })}</span>
          </label>
          <div class="button-row">
            <button
              type="button"
              class="button primary"
              disabled={!points.value}
              onClick={() => {
                const placed = points.value!;
                end.settings.value = { ...end.settings.value, face: faceId };
                end.pick.value = null;
                end.byHand.value = {
                  centrePx: [...placed.centre],
                  edgesPx: [[...placed['ring-1']], [...placed['ring-2']]],
                  radiusMm: radius.value,
                };
                onDone();
                void readEnd(end);
              }}
            >
              {say('Read with this')}
            </button>
            <button type="button" class="button" onClick={onDone}>
              {say('Back')}
            </button>
          </div>
        </div>
      </section>
    </main>
  );
}
