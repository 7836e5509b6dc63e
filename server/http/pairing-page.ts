import type { ErrorRequestHandler, RequestHandler, Response } from 'express';
import { z } from 'zod';
import { html } from '../../src/drawing/html.ts';
import type { Words } from '../../src/words/words.ts';
import { HttpError } from './http-error.ts';
import { badNews, plainPage } from './plain-page.ts';
import { wantsPage } from './wants-page.ts';
import { wordsFor } from './words-for.ts';

/** GET /pair: the form for the code, without any script. */
export function pairingPage(): RequestHandler {
  return async (request, response) => {
    const { code } = z.object({ code: z.string().max(40).catch('') }).parse({
      code: request.query['code'] ?? '',
    });
    sendForm(response, { action: 'api/pair', code, words: await wordsFor(request, response) });
  };
}

/** A form that was refused comes back with the reason. */
export const pairingFormAgain: ErrorRequestHandler = async (
  error: unknown,
  request,
  response,
  next,
) => {
  if (!(error instanceof HttpError) || !wantsPage(request)) {
    next(error);
    return;
  }
  const { code } = z
    .object({ code: z.string().max(40) })
    .catch({ code: '' })
    .parse(request.body);
  const words = await wordsFor(request, response);
  response.status(error.status);
  sendForm(response, { action: 'pair', code, words, problem: words.again(error.message) });
};

function sendForm(
  response: Response,
  form: {
    readonly action: string;
    readonly code: string;
    readonly words: Words;
    readonly problem?: string;
  },
): void {
  const { action, code, words, problem } = form;
  const { say } = words;
  const page = plainPage(
    say('Pair this device'),
    html`${problem === undefined ? null : badNews(problem)}
      <p>${say('The code stands in the terminal in which endwise runs.')}</p>
      <form method="post" action="${action}">
        <label for="code">Code</label>
        <input
          id="code"
          name="code"
          value="${code.replace(/[^A-Za-z0-9-]/g, '')}"
          autocapitalize="characters"
          autocomplete="off"
          spellcheck="false"
          required
        />
        <button>${say('Pair')}</button>
      </form>`,
    words,
  );
  response.set('Cache-Control', 'no-store').type('html').send(page);
}
