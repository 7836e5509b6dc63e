import type { Request } from 'express';

/** True for what a browser asks for by itself, a link or a form; scripts and programs take JSON. */
export function wantsPage(request: Request): boolean {
  return request.accepts(['json', 'html']) === 'html';
}
