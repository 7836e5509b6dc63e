import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  handle,
  HANDS_OFF,
  type Ground,
  type HandEvent,
  type Hands,
  type Point,
  type StageRequest,
} from '../../web/look/stage-gestures.ts';
import { toPhoto, type ViewTransform } from '../../web/look/view-transform.ts';

const GROUND: Ground = {
  view: { scale: 0.5, x: 0, y: 0 },
  photo: { width: 800, height: 1200 },
  stage: { width: 400, height: 600 },
  handles: [
    { id: 'a', px: [200, 200] },
    { id: 'b', px: [220, 200] },
  ],
};
const down = (pointer: number, at: Point, mouse = false): HandEvent => ({
  type: 'down',
  pointer,
  at,
  mouse,
});
const move = (pointer: number, at: Point): HandEvent => ({ type: 'move', pointer, at });
const up = (pointer: number): HandEvent => ({ type: 'up', pointer });

/** What a person does, and all that comes of it. */
function after(...events: HandEvent[]) {
  let hands: Hands = HANDS_OFF;
  let { view } = GROUND;
  let touched = false;
  const requests: StageRequest[] = [];
  for (const event of events) {
    // A pointer that is down does not come down again.
    if (event.type === 'down' && hands.pointers.has(event.pointer)) continue;
    const outcome = handle(hands, event, { ...GROUND, view });
    hands = outcome.hands;
    touched ||= outcome.view !== null;
    view = outcome.view ?? view;
    requests.push(...outcome.requests);
  }
  return { hands, view, touched, requests };
}

describe('hands on the photo', () => {
  test('a tap on a handle takes the nearest one within a thumb, a mouse must be nearer', () => {
    expect(after(down(1, [108, 100]), up(1)).requests).toEqual([{ type: 'tap-handle', id: 'b' }]);
    expect(after(down(1, [80, 100]), up(1)).requests).toEqual([{ type: 'tap-handle', id: 'a' }]);
    const [byMouse] = after(down(1, [80, 100], true), up(1)).requests;
    expect(byMouse).toEqual({ type: 'tap-photo', px: [160, 200], slackPx: 8 });
  });

  test('a tap beside all handles says where it was and how far it may be off', () => {
    const { requests, touched } = after(down(1, [300, 50]), move(1, [303, 52]), up(1));
    expect(requests).toEqual([{ type: 'tap-photo', px: [600, 100], slackPx: 18 }]);
    expect(touched).toBe(false);
  });

  test('a dragged handle moves as the finger does, under a loupe, until it is dropped', () => {
    const events = [down(1, [105, 100]), move(1, [125, 90])];
    const held = after(...events);
    expect(held.requests).toEqual([{ type: 'move', id: 'b', px: [260, 180] }]);
    expect(held.hands.loupe).toEqual({ finger: [125, 90], px: [260, 180] });
    expect(held.touched).toBe(false);
    const dropped = after(...events, up(1));
    expect(dropped.requests.at(-1)).toEqual({ type: 'drop', id: 'b' });
    expect(dropped.hands).toEqual(HANDS_OFF);
  });

  test.each([
    ['a second finger', down(2, [300, 300])],
    ['the browser', { type: 'cancel', pointer: 1 } as const],
  ])('%s takes a drag back', (_, event) => {
    const { requests, hands } = after(down(1, [100, 100]), move(1, [140, 100]), event);
    expect(requests.at(-1)).toEqual({ type: 'cancel-move' });
    expect(hands.loupe).toBeNull();
  });

  test('a finger beside all handles pans', () => {
    const { view, requests } = after(down(1, [300, 300]), move(1, [330, 280]), up(1));
    expect(view).toEqual({ scale: 0.5, x: 30, y: -20 });
    expect(requests).toEqual([]);
  });

  test('two fingers zoom about the point between them, and the one that stays pans on', () => {
    const pinch = [down(1, [150, 300]), down(2, [250, 300]), move(2, [350, 300])];
    const pinched = after(...pinch);
    expect(pinched.view.scale).toBeCloseTo(1, 9);
    // What was in the middle of the fingers still is, though that middle has moved.
    const [x, y] = toPhoto(pinched.view, [250, 300]);
    expect([x, y].map((v) => Math.round(v))).toEqual([400, 600]);
    const { view, requests } = after(...pinch, up(1), move(2, [340, 290]), up(2));
    expect(view.x - pinched.view.x).toBeCloseTo(-10, 9);
    expect(view.y - pinched.view.y).toBeCloseTo(-10, 9);
    expect(requests).toEqual([]);
  });

  test('pointers that went down elsewhere do nothing', () => {
    expect(after(move(7, [10, 10]), up(7))).toMatchObject({ hands: HANDS_OFF, requests: [] });
  });

  test('whatever hands do, the photo stays in view and every drag ends once', () => {
    const pointer = fc.integer({ min: 1, max: 3 });
    const at = fc.tuple(fc.double({ min: -50, max: 450, noNaN: true }), fc.double({ min: -50, max: 650, noNaN: true })); // prettier-ignore
    const event: fc.Arbitrary<HandEvent> = fc.oneof(
      fc.record({ type: fc.constant('down' as const), pointer, at, mouse: fc.boolean() }),
      fc.record({ type: fc.constant('move' as const), pointer, at }),
      fc.record({ type: fc.constantFrom('up' as const, 'cancel' as const), pointer }),
    );
    fc.assert(
      fc.property(fc.array(event, { maxLength: 30 }), (events) => {
        const { view, requests } = after(...events);
        expect(middleIsOnPhoto(view)).toBe(true);
        let held: string | null = null;
        for (const request of requests) {
          if (request.type === 'move') held = request.id;
          else if (request.type === 'drop') {
            expect(request.id).toBe(held);
            held = null;
          } else if (request.type === 'cancel-move') held = null;
          else expect(held).toBeNull();
        }
      }),
    );
  });
});

function middleIsOnPhoto(view: ViewTransform): boolean {
  const [x, y] = toPhoto(view, [200, 300]);
  return x >= -1e-6 && y >= -1e-6 && x <= 800 + 1e-6 && y <= 1200 + 1e-6;
}
