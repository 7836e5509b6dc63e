import type { Request, Response } from 'express';
import { spokenIn } from '../../src/words/spoken-in.ts';
import { LANGUAGES, wordsOf, type Language, type Words } from '../../src/words/words.ts';

/** What a browser is answered in by a page of the server: the first language it asks for that there is. */
export async function wordsFor(request: Request, response: Response): Promise<Words> {
  response.vary('Accept-Language');
  const asked = request.acceptsLanguages([...LANGUAGES]) as Language | false;
  return wordsOf(await spokenIn(asked || 'en'));
}
