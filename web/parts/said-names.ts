import type { SetUp } from '../../src/tuning/bow/set-up.ts';
import { say } from '../state/words.ts';
import { isWrittenDown, NO_NAME } from '../store/log-of-kept.ts';

/** What the log calls an archer, said: nobody's name is one in no language. */
export function archerName(name: string): string {
  return name === NO_NAME ? say('No name') : name;
}

/** The same of a set-up: what stands for one that nobody wrote down has no name of its own. */
export function setUpName(setUp: SetUp): string {
  return isWrittenDown(setUp) ? setUp.name : say('Not written down');
}
