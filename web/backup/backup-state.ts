import { z } from 'zod';
import { remembered } from '../state/remembered.ts';

/** When everything was last copied into a file, null while it never was. */
export const lastCopy = remembered('last-copy', z.iso.datetime().nullable(), null);
