import { say } from '../state/words.ts';
import { z } from 'zod';

/** The log will not have it, whatever is tried. */
export class Refused extends Error {
  readonly code: string;

  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}

/** The log's machine has no room. */
export class NoRoom extends Error {}

export interface LogRequest {
  readonly method: 'GET' | 'PUT' | 'DELETE';
  readonly body?: string | FormData;
  /** What the log must hold for a change to be taken: a version, null for nothing; else anything. */
  readonly expected?: string | null | undefined;
}

/** What is in the log under a path, and its version. @throws as `askLog` */
export async function getLog<T>(
  path: string,
  schema: z.ZodType<T>,
): Promise<{ readonly content: T; readonly version: string | null }> {
  const answer = await ask(path, { method: 'GET' });
  return { content: schema.parse(await answer.json()), version: versionIn(answer) };
}

/**
 * Asks the log of the server that the page came from.
 * @returns the version that the log has now
 * @throws Refused, NoRoom; another error where an answer may come later
 */
export async function askLog(path: string, request: LogRequest): Promise<string | null> {
  return versionIn(await ask(path, request));
}

function versionIn(answer: Response): string | null {
  return answer.headers.get('etag')?.replace(/^(W\/)?"|"$/g, '') ?? null;
}

async function ask(path: string, { method, body, expected }: LogRequest): Promise<Response> {
  const answer = await fetch(`api/log/${path.split('/').map(encodeURIComponent).join('/')}`, {
    method,
    headers: {
      ...(typeof body === 'string' && { 'content-type': 'application/json' }),
      ...(typeof expected === 'string' && { 'if-match': `"${expected}"` }),
      ...(expected === null && { 'if-none-match': '*' }),
    },
    ...(body !== undefined && { body }),
  });
  if (answer.ok) return answer;
  const said = z
    .object({ error: z.object({ code: z.string(), message: z.string() }) })
    .safeParse(await answer.json().catch(() => null));
  const { code, message } = said.success
    ? said.data.error
    : { code: '', message: say('The log refused an end ({status}).', { status: answer.status }) };
  if (answer.status === 507) throw new NoRoom(message);
  const isNotThere = code.startsWith('unknown-');
  const mayComeLater = answer.status >= 500 || answer.status === 404 || answer.status === 429;
  // A gateway that has no server behind it, or a server that is busy, may answer later.
  if (mayComeLater && !isNotThere) throw new Error(answer.statusText);
  throw new Refused(code, message);
}
