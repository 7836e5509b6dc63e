import type { Archer, End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import type { WholeLog } from '../../src/tuning/record/bow-log.ts';
import { ENGLISH } from '../../src/words/words.ts';
import type { Log, LoggedEnd, LogOfBow } from '../log/log.ts';
import type { Expected } from '../log/version-of.ts';
import type { Gate } from './guarded-routes.ts';
import { HttpError } from './http-error.ts';

/**
 * The log as one visitor may see and change it by the route that they ask. What they may not see does
 * not exist for them: it is answered as what is not there is.
 */
export class LogAccess {
  readonly log: Log;
  readonly #gate: Gate;

  constructor(log: Log, gate: Gate) {
    this.log = log;
    this.#gate = gate;
  }

  async archers(): Promise<Archer[]> {
    return (await this.log.archers()).filter((archer) => this.#mayOf(archer.id));
  }

  async putArcher(archer: Archer): Promise<void> {
    this.#gate.needAction('keep-record');
    // The same whether somebody has this id or not.
    if (!this.#mayOf(archer.id)) {
      throw new HttpError(
        403,
        'not-allowed',
        ENGLISH.say(
          'This device keeps ends of its own archers alone: whoever keeps the log adds others.',
        ),
      );
    }
    await this.log.putArcher(archer, this.#gate.visitor);
  }

  async deleteArcher(id: string) {
    this.#gate.needAction('delete-archer');
    this.#need(id, 'archer');
    return this.log.deleteArcher(id, this.#gate.visitor);
  }

  async bows(): Promise<Bow[]> {
    return (await this.log.bows()).filter((bow) => this.#mayOf(bow.archerId));
  }

  async bow(id: string): Promise<Bow> {
    const bow = (await this.bows()).find((one) => one.id === id);
    if (bow === undefined) throw notHere('bow');
    return bow;
  }

  async putBow(bow: Bow, expected?: Expected): Promise<string> {
    this.#gate.needAction('keep-record');
    this.#need(bow.archerId, 'archer');
    await this.#needNobodyElses('bow', bow.id);
    return this.log.putBow(bow, expected, this.#gate.visitor);
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
    this.#gate.needAction('delete-record');
    await this.#needPart('bow', id);
    await this.log.deleteBow(id, expected, this.#gate.visitor);
  }

  async deleteSetUp(id: string, expected?: Expected): Promise<void> {
    this.#gate.needAction('delete-record');
    await this.#needPart('set-up', id);
    await this.log.deleteSetUp(id, expected, this.#gate.visitor);
  }

  async putSetUp(setUp: SetUp, expected?: Expected): Promise<string> {
    this.#gate.needAction('keep-record');
    await this.#needPart('bow', setUp.bowId);
    // Even its name is another's.
    await this.#needNobodyElses('set-up', setUp.id, 'set-up');
    return this.log.putSetUp(setUp, expected, this.#gate.visitor);
  }

  async sessions(): Promise<Session[]> {
    return this.#ofEach(
      (id) => this.log.sessions(id),
      ({ date }) => date,
    );
  }

  async putSession(session: Session): Promise<void> {
    this.#gate.needAction('keep-record');
    this.#need(session.archerId, 'archer');
    await this.#needPart('bow', session.bowId);
    await this.#needNobodyElses('session', session.id);
    await this.log.putSession(session, this.#gate.visitor);
  }

  async ends(): Promise<LoggedEnd[]> {
    return this.#ofEach(
      (id) => this.log.ends(id),
      ({ shotAt }) => shotAt,
    );
  }

  async end(id: string): Promise<LoggedEnd> {
    await this.#needPart('end', id);
    return this.log.end(id);
  }

  async putEnd(end: End, photo?: { readonly path: string }, expected?: Expected): Promise<End> {
    this.#gate.needAction('keep-record');
    await this.#needPart('session', end.sessionId);
    await this.#needNobodyElses('end', end.id, 'session');
    return this.log.putEnd(end, photo, expected, this.#gate.visitor);
  }

  async deleteEnd(id: string, expected?: Expected): Promise<void> {
    this.#gate.needAction('delete-record');
    await this.#needPart('end', id);
    await this.log.deleteEnd(id, expected, this.#gate.visitor);
  }

  async photo(endId: string): Promise<Buffer> {
    const end = await this.end(endId);
    if (end.photo === null) throw notHere('photo');
    return this.log.photos.readSound(end.photo);
  }

  async bowLog(bowId: string): Promise<LogOfBow> {
    await this.#needPart('bow', bowId);
    return this.log.bowLog(bowId);
  }

  async everything(): Promise<WholeLog<LoggedEnd>> {
    const whole = await this.log.everything();
    if (this.#seesAll) return whole;
    const sessions = whole.sessions.filter((session) => this.#mayOf(session.archerId));
    const ids = new Set(sessions.map((session) => session.id));
    return { ...whole, sessions, ends: whole.ends.filter((end) => ids.has(end.sessionId)) };
  }

  /**
   * Whose record is handed out: of whoever is named, else a device's own archer's, else everybody's
   * (undefined).
   */
  async exported(named: string | undefined): Promise<string | undefined> {
    this.#gate.needAction('export');
    const archerId = named ?? this.#gate.visitor.archerId;
    if (archerId === null) {
      this.#gate.need('club');
      return undefined;
    }
    this.#need(archerId, 'archer');
    if ((await this.log.ownerOf('archer', archerId)) === null) throw notHere('archer');
    return archerId;
  }

  get #seesAll(): boolean {
    return this.#gate.may('other');
  }

  #mayOf(archerId: string): boolean {
    return this.#gate.mayOf(archerId);
  }

  /** Of everybody whom the visitor may see, in the order that the log has. */
  async #ofEach<T extends { readonly id: string }>(
    of: (archerId?: string) => Promise<T[]>,
    at: (one: T) => string,
  ): Promise<T[]> {
    if (this.#seesAll) return of();
    const { visitor } = this.#gate;
    const theirs = [...visitor.coached, ...(visitor.archerId === null ? [] : [visitor.archerId])];
    const lists = await Promise.all(theirs.filter((id) => this.#mayOf(id)).map(of));
    if (lists.length === 1) return lists[0]!;
    const key = (one: T) => `${at(one)} ${one.id}`;
    return lists.flat().sort((a, b) => (key(a) < key(b) ? -1 : 1));
  }

  #need(archerId: string, asked: string): void {
    if (!this.#mayOf(archerId)) throw notHere(asked);
  }

  /** What nobody has is said to be missing by the log, with its id, where anybody's may be seen. */
  async #needPart(what: Parameters<Log['ownerOf']>[0], id: string): Promise<void> {
    if (this.#seesAll) return;
    const owner = await this.log.ownerOf(what, id);
    if (owner === null || !this.#mayOf(owner)) throw notHere(what);
  }

  /** What is not there yet may be put there. */
  async #needNobodyElses(
    what: Parameters<Log['ownerOf']>[0],
    id: string,
    asked = 'archer',
  ): Promise<void> {
    if (this.#seesAll) return;
    const owner = await this.log.ownerOf(what, id);
    if (owner !== null && !this.#mayOf(owner)) throw notHere(asked);
  }
}

function notHere(what: string): HttpError {
  return new HttpError(
    404,
    `unknown-${what}`,
    ENGLISH.say('There is no such {what} here.', { what }),
  );
}
