import type { z } from 'zod';
import { HttpError } from './http-error.ts';

/** A form field that holds JSON, checked by its schema; an absent field counts as `{}`. */
export function jsonField<Schema extends z.ZodType>(
  fields: ReadonlyMap<string, string>,
  name: string,
  schema: Schema,
): z.output<Schema> {
  const text = fields.get(name) ?? '{}';
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new HttpError(400, 'bad-request', `The field "${name}" is not valid JSON.`);
  }
  return schema.parse(value);
}
