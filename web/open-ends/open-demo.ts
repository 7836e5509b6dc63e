import { say } from '../state/words.ts';
import demoPhoto from '../../test-images/fresh-02.jpg';
import { announce } from '../state/announce.ts';
import { openPhotos } from './ends.ts';
import { today } from '../state/settings.ts';
import { SETTINGS_AT_FIRST } from '../state/settings-at-first.ts';

/** Opens the demo end of an invented archer; the photo is read like any other. */
export async function openDemo(): Promise<void> {
  const answer = await fetch(demoPhoto).catch(() => null);
  if (!answer?.ok) {
    announce(say('The demo photo needs the network once.'));
    return;
  }
  const photo = new File([await answer.blob()], 'demo-end.jpg', { type: 'image/jpeg' });
  await openPhotos([photo], null, {
    ...SETTINGS_AT_FIRST,
    archer: 'Juna Feldweg',
    face: 'wa80',
    shaftMm: 8.1,
    hand: 'right',
    distanceM: 50,
    fletched: 3,
    bare: 2,
    place: 'Heathside ground',
    setting: 'outdoor',
    wind: 'light, from the left',
    windDay: today(),
  });
}
