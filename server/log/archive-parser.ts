import { Tokenizer, TokenParser, TokenType } from '@streamparser/json';
import { z } from 'zod';
import { issueSentence } from '../reading/issue-sentence.ts';
import {
  ARCHIVE_VERSION,
  archiveSchema,
  MOST_RECORDS,
  type Archive,
} from '../../src/tuning/record/archive.ts';
import { broken } from './broken-archive.ts';
import { LogError } from './log-error.ts';

/** Lists of records within an archive. */
type Lists = Pick<Archive, keyof typeof MOST_RECORDS>;

/** A record of an archive, or what it says of itself. */
export type ArchiveValue =
  | { readonly kind: 'version'; readonly value: number }
  | {
      readonly [Kind in keyof Lists]: { readonly kind: Kind; readonly value: Lists[Kind][number] };
    }[keyof Lists];

/** Between two values, bytes: a record has some thousand, what is larger is none. */
const MAX_VALUE_BYTES = 2 * 1024 * 1024;

const ABOUT = ['format', 'version', 'exportedAt'] as const;
const KINDS = Object.keys(MOST_RECORDS) as (keyof Lists)[];

/** Makes the records of an archive of their JSON as it comes; holds no more than one. */
export class ArchiveParser {
  readonly #tokenizer = new Tokenizer();
  readonly #values = new TokenParser({
    // The notes beside the records are only let go of.
    paths: [
      ...ABOUT.map((name) => `$.${name}`),
      ...KINDS.map((kind) => `$.${kind}.*`),
      '$.missing.*',
      '$.unplaced.*.*',
    ],
    keepStack: false,
  });
  readonly #counts = new Map<string, number>();
  /** What it says of itself, and an empty list for each that is there. */
  readonly #said: Record<string, unknown> = {};
  #depth = 0;
  #name = '';
  #whole: ArchiveValue[] = [];
  #sinceValue = 0;

  constructor() {
    this.#tokenizer.onToken = (parsed) => {
      this.#notice(parsed);
      this.#values.write(parsed);
    };
    this.#values.onValue = ({ value, key, stack }) => {
      this.#sinceValue = 0;
      const list = stack[1]?.key;
      if (stack.length === 1) this.#about(String(key), value);
      else if (stack.length === 2 && isKind(list)) this.#record(list, value);
    };
    const fail = (error: Error) => {
      throw error instanceof LogError ? error : broken('its records are not JSON', error);
    };
    this.#tokenizer.onError = fail;
    this.#values.onError = fail;
  }

  /** @returns what came whole with it @throws LogError */
  take(chunk: Uint8Array): readonly ArchiveValue[] {
    this.#whole = [];
    this.#sinceValue += chunk.length;
    this.#tokenizer.write(chunk);
    if (this.#sinceValue > MAX_VALUE_BYTES) throw broken('its records hold more than any log does');
    return this.#whole;
  }

  /** @throws LogError where it breaks off, or lacks something */
  end(): void {
    if (!this.#values.isEnded) throw broken('its records are not JSON');
    const parsed = archiveSchema.safeParse(this.#said);
    if (!parsed.success) throw asBroken(parsed.error);
  }

  /** Lists are let go of before they are whole: that they are there shows by their beginning. */
  #notice({ token, value }: { readonly token: TokenType; readonly value: unknown }): void {
    if (this.#depth === 0 && token !== TokenType.LEFT_BRACE) throw noArchive();
    if (this.#depth === 1 && token === TokenType.STRING) this.#name = String(value);
    if (token === TokenType.LEFT_BRACE || token === TokenType.LEFT_BRACKET) {
      const isList = this.#depth === 1 && token === TokenType.LEFT_BRACKET;
      if (isList && isKind(this.#name)) this.#said[this.#name] = [];
      this.#depth++;
    }
    if (token === TokenType.RIGHT_BRACE || token === TokenType.RIGHT_BRACKET) this.#depth--;
  }

  #about(name: string, value: unknown): void {
    this.#said[name] = value;
    if (name !== 'version' || typeof value !== 'number') return;
    if (value > ARCHIVE_VERSION) {
      throw new LogError(
        'newer-archive',
        'The archive was written by a newer endwise: update endwise, then import it.',
      );
    }
    this.#whole.push({ kind: 'version', value });
  }

  #record(kind: keyof Lists, value: unknown): void {
    const place = this.#counts.get(kind) ?? 0;
    this.#counts.set(kind, place + 1);
    if (place >= MOST_RECORDS[kind]) throw broken('its records hold more than any log does');
    const parsed = archiveSchema.shape[kind].element.safeParse(value);
    if (!parsed.success) {
      const issues = parsed.error.issues.map((issue) => ({ ...issue, path: [kind, place, ...issue.path] })); // prettier-ignore
      throw asBroken(new z.ZodError(issues));
    }
    this.#whole.push({ kind, value: parsed.data } as ArchiveValue);
  }
}

function noArchive(): LogError {
  return broken('it was not made by an export of endwise');
}

function isKind(key: unknown): key is keyof Lists {
  return KINDS.includes(key as keyof Lists);
}

function asBroken(error: z.ZodError): LogError {
  return broken(issueSentence(error).replace(/\.$/, ''));
}
