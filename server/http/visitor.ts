import type { RequestHandler, Response } from 'express';
import type { Person } from '../../src/club/rights.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { THIS_MACHINE, type Actor } from '../log/trail.ts';
import { HttpError } from './http-error.ts';

/** Whoever asks: a paired device, or the machine itself. */
export interface Visitor extends Actor, Person {
  /** Of a coach's device. */
  readonly coachId: string | null;
}

/** The machine of the log keeps it: whoever sits there has its files anyway. */
export const HERE: Visitor = {
  ...THIS_MACHINE,
  archerId: null,
  coachId: null,
  coached: new Set(),
};

export function visitorOf(response: Response): Visitor {
  const visitor = response.locals['visitor'] as Visitor | undefined;
  // A route that nobody was let in to answers nobody.
  if (visitor === undefined) throw notPaired();
  return visitor;
}

/** Notes who asks. @param find null where nobody is known */
export function letIn(
  find: (request: Parameters<RequestHandler>[0]) => Promise<Visitor | null>,
): RequestHandler {
  return async (request, response, next) => {
    const visitor = await find(request);
    if (visitor === null) throw notPaired();
    response.locals['visitor'] = visitor;
    next();
  };
}

export function notAllowed(): HttpError {
  return new HttpError(
    403,
    'not-allowed',
    ENGLISH.say('This device may not do that: whoever keeps the log may.'),
  );
}

function notPaired(): HttpError {
  return new HttpError(
    401,
    'not-paired',
    ENGLISH.say('Pair this device first: open /pair and type the code.'),
  );
}
