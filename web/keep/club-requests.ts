import { z } from 'zod';
import { say, words } from '../state/words.ts';
import { Refused } from './log-requests.ts';

const coachSchema = z.object({
  id: z.string(),
  name: z.string(),
  /** Whom they coach. */
  archerIds: z.array(z.string()).readonly(),
});
export type Coach = z.infer<typeof coachSchema>;

const codeSchema = z.object({ code: z.string(), minutes: z.number() });
const errorSchema = z.object({ error: z.object({ code: z.string(), message: z.string() }) });

/** Who coaches whom. @throws Refused; another error where an answer may come later, as all of these do */
export async function coachesOfClub(): Promise<Coach[]> {
  return z.array(coachSchema).parse(await asked('coaches', { method: 'GET' }));
}

export async function putCoach(coach: Coach): Promise<void> {
  await asked(`coaches/${encodeURIComponent(coach.id)}`, { method: 'PUT', sent: coach });
}

/** With their links to archers and their devices; archers stay. */
export async function deleteCoach(id: string): Promise<void> {
  await asked(`coaches/${encodeURIComponent(id)}`, { method: 'DELETE' });
}

/** A code that pairs one device. */
export async function newCode(
  holder: { readonly archer: string } | { readonly coach: string },
): Promise<z.infer<typeof codeSchema>> {
  return codeSchema.parse(await asked('pairing-codes', { method: 'POST', sent: holder }));
}

/** Why nothing came of it, as a sentence. */
export function whyNot(error: unknown): string {
  return error instanceof Refused
    ? words.value.again(error.message)
    : say('{host} cannot be reached: try later.', { host: location.host });
}

async function asked(
  path: string,
  { method, sent }: { readonly method: string; readonly sent?: object },
): Promise<unknown> {
  const answer = await fetch(`api/${path}`, {
    method,
    ...(sent && {
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(sent),
    }),
  });
  if (answer.status === 204) return null;
  const said: unknown = await answer.json();
  if (answer.ok) return said;
  const { error } = errorSchema.parse(said);
  throw new Refused(error.code, error.message);
}
