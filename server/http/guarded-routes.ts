import { Router, type Request, type RequestHandler, type Response } from 'express';
import { may, mayEver, ownerFor, type Action, type Owner } from '../../src/club/rights.ts';
import { notAllowed, visitorOf, type Visitor } from './visitor.ts';

/** What the table of rights says of one visitor and the action of the route that they ask. */
export class Gate {
  readonly visitor: Visitor;
  readonly action: Action;

  constructor(visitor: Visitor, action: Action) {
    this.visitor = visitor;
    this.action = action;
  }

  may(owner: Owner): boolean {
    return may(this.visitor.role, this.action, owner);
  }

  /** @param archerId whose it is; null where it is no archer's */
  mayOf(archerId: string | null): boolean {
    return this.may(ownerFor(this.visitor, archerId));
  }

  /** @throws HttpError */
  need(owner: Owner): void {
    if (!this.may(owner)) throw notAllowed();
  }

  /** @throws Error where a route does something else than it says */
  needAction(action: Action): void {
    if (action !== this.action) {
      throw new Error(`The route is there for "${this.action}", not for "${action}".`);
    }
  }
}

type Handler = (request: Request, response: Response, gate: Gate) => Promise<void> | void;
type Method = 'get' | 'put' | 'post' | 'delete' | 'patch';

/** A route that is registered, for tests. */
export interface GuardedRoute {
  readonly method: Method;
  readonly path: string;
  readonly action: Action;
}

/**
 * Routes that each name what they are there for. Whom the table of rights lets do it to nothing at all
 * is refused before anything that they send is looked at; what a handler does it does through its gate.
 */
export class GuardedRoutes {
  readonly router = Router();
  readonly routes: GuardedRoute[] = [];

  get(path: string, action: Action, handler: Handler): void {
    this.#add('get', path, action, [], handler);
  }

  delete(path: string, action: Action, handler: Handler): void {
    this.#add('delete', path, action, [], handler);
  }

  /** @param body reads what is sent, once it is clear that it may be */
  put(path: string, action: Action, body: RequestHandler | null, handler: Handler): void {
    this.#add('put', path, action, body ? [body] : [], handler);
  }

  post(path: string, action: Action, body: RequestHandler | null, handler: Handler): void {
    this.#add('post', path, action, body ? [body] : [], handler);
  }

  #add(
    method: Method,
    path: string,
    action: Action,
    before: readonly RequestHandler[],
    handler: Handler,
  ): void {
    this.routes.push({ method, path, action });
    const check: RequestHandler = (_request, response, next) => {
      if (!mayEver(visitorOf(response).role, action)) throw notAllowed();
      next();
    };
    this.router[method](path, check, ...before, (request: Request, response: Response) =>
      handler(request, response, new Gate(visitorOf(response), action)),
    );
  }
}
