import { ENGLISH } from '../../src/words/words.ts';
import type { Archer, End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import type { WholeLog } from '../../src/tuning/record/bow-log.ts';
import type { Log, LoggedEnd, LogOfBow } from '../log/log.ts';
import type { Expected } from '../log/version-of.ts';
import { HttpError } from './http-error.ts';

/**
 * The log as one visitor may see it: everything, or one archer's own part. What belongs to others does
 * not exist for them.
 */
export class LogAccess {
  readonly log: Log;
  /** Null sees everything. */
  readonly archerId: string | null;

  constructor(log: Log, archerId: string | null) {
    this.log = log;
    this.archerId = archerId;
  }

  async archers(): Promise<Archer[]> {
    return (await this.log.archers()).filter((archer) => this.#mine(archer.id));
  }

  async putArcher(archer: Archer): Promise<void> {
    this.#need(archer.id);
    await this.log.putArcher(archer);
  }

  async deleteArcher(id: string) {
    this.#need(id);
    return this.log.deleteArcher(id);
  }

  async bows(): Promise<Bow[]> {
    return (await this.log.bows()).filter((bow) => this.#mine(bow.archerId));
  }

  async bow(id: string): Promise<Bow> {
    const bow = (await this.bows()).find((one) => one.id === id);
    if (bow === undefined) throw notHere('bow');
    return bow;
  }

  async putBow(bow: Bow, expected?: Expected): Promise<string> {
    this.#need(bow.archerId);
    await this.#needNobodyElses('bow', bow.id);
    return this.log.putBow(bow, expected);
  }

  async setUps(): Promise<SetUp[]> {
    const bows = new Set((await this.bows()).map((bow) => bow.id));
    return (await this.log.setUps()).filter((setUp) => bows.has(setUp.bowId));
  }

  async setUp(id: string): Promise<SetUp> {
    const setUp = (await this.setUps()).find((one) => one.id === id);
    if (setUp === undefined) throw notHere('set-up');
    return setUp;
  }

  async deleteBow(id: string, expected?: Expected): Promise<void> {
    await this.#needBow(id);
    await this.log.deleteBow(id, expected);
  }

  async deleteSetUp(id: string, expected?: Expected): Promise<void> {
    await this.setUp(id);
    await this.log.deleteSetUp(id, expected);
  }

  async putSetUp(setUp: SetUp, expected?: Expected): Promise<string> {
    await this.#needBow(setUp.bowId);
    // Even its name is another's.
    await this.#needNobodyElses('set-up', setUp.id, 'set-up');
    return this.log.putSetUp(setUp, expected);
  }

  async sessions(archerId?: string): Promise<Session[]> {
    return this.log.sessions(this.archerId ?? archerId);
  }

  async putSession(session: Session): Promise<void> {
    this.#need(session.archerId);
    await this.#needBow(session.bowId);
    await this.#needNobodyElses('session', session.id);
    await this.log.putSession(session);
  }

  /** @param archerId who is meant, where the visitor may see several */
  async ends(archerId?: string): Promise<LoggedEnd[]> {
    return this.log.ends(this.archerId ?? archerId);
  }

  async end(id: string): Promise<LoggedEnd> {
    await this.#needNobodyElses('end', id, 'session');
    return this.log.end(id);
  }

  async putEnd(end: End, photo?: { readonly path: string }, expected?: Expected): Promise<End> {
    await this.#needSession(end.sessionId);
    await this.#needNobodyElses('end', end.id, 'session');
    return this.log.putEnd(end, photo, expected);
  }

  async deleteEnd(id: string, expected?: Expected): Promise<void> {
    await this.end(id);
    await this.log.deleteEnd(id, expected);
  }

  async photo(endId: string): Promise<Buffer> {
    const end = await this.end(endId);
    if (end.photo === null) throw notHere('photo');
    return this.log.photos.readSound(end.photo);
  }

  async bowLog(bowId: string): Promise<LogOfBow> {
    await this.#needBow(bowId);
    return this.log.bowLog(bowId);
  }

  async everything(): Promise<WholeLog<LoggedEnd>> {
    const whole = await this.log.everything();
    if (this.archerId === null) return whole;
    const sessions = whole.sessions.filter((session) => this.#mine(session.archerId));
    const ids = new Set(sessions.map((session) => session.id));
    return { ...whole, sessions, ends: whole.ends.filter((end) => ids.has(end.sessionId)) };
  }

  /** Refuses what only the person who runs the server may do. */
  needAll(): void {
    if (this.archerId !== null) {
      throw new HttpError(403, 'not-allowed', ENGLISH.say('Only the coach may do that.'));
    }
  }

  #mine(archerId: string): boolean {
    return this.archerId === null || archerId === this.archerId;
  }

  #need(archerId: string): void {
    if (!this.#mine(archerId)) throw notHere('archer');
  }

  async #needBow(bowId: string): Promise<void> {
    if (this.archerId === null) return;
    if ((await this.log.ownerOf('bow', bowId)) !== this.archerId) throw notHere('bow');
  }

  async #needSession(sessionId: string): Promise<void> {
    if (this.archerId === null) return;
    if ((await this.log.ownerOf('session', sessionId)) !== this.archerId) throw notHere('session');
  }

  /** What is not there yet may be put there. */
  async #needNobodyElses(
    what: Parameters<Log['ownerOf']>[0],
    id: string,
    asked = 'archer',
  ): Promise<void> {
    if (this.archerId === null) return;
    const owner = await this.log.ownerOf(what, id);
    if (owner !== null && owner !== this.archerId) throw notHere(asked);
  }
}

function notHere(what: string): HttpError {
  return new HttpError(
    404,
    `unknown-${what}`,
    ENGLISH.say('There is no such {what} here.', { what }),
  );
}
