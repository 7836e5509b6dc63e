/** A number that cannot be: not finite, or larger than anything that is measured here. Says where it stands. */
export class InputError extends RangeError {
  override readonly name = 'InputError';
  /** From the argument to the number: '1.marks.3.mm.0'. */
  readonly path: string;
  readonly value: number;

  constructor(of: string, path: string, value: number) {
    super(
      `${of} was given ${value} at ${path}: numbers are finite and within ±${LARGEST}. Leave out what is not known.`,
    );
    this.path = path;
    this.value = value;
  }
}

/** Squares of it, and their sums and products, stay exact enough; no length, count or angle comes near. */
const LARGEST = 1e9;

/**
 * A function that looks at every number of its arguments before it runs. Pixels and whatever is no plain data (engines,
 * signals, functions) are not looked into.
 * @throws InputError at the first number that cannot be; a promise rejects with it
 */
export function checked<Args extends readonly unknown[], Result>(
  of: string,
  run: (...args: Args) => Result,
): (...args: Args) => Result {
  return (...args) => {
    args.forEach((arg, i) => check(of, arg, String(i)));
    return run(...args);
  };
}

/** The same of a function whose failures are those of its promise. */
export function checkedLater<Args extends readonly unknown[], Result>(
  of: string,
  run: (...args: Args) => Promise<Result>,
): (...args: Args) => Promise<Result> {
  const now = checked(of, run);
  return async (...args) => now(...args);
}

function check(of: string, value: unknown, path: string): void {
  if (typeof value === 'number') {
    if (!(Math.abs(value) <= LARGEST)) throw new InputError(of, path, value);
    return;
  }
  if (!isPlain(value)) return;
  for (const [key, inside] of Object.entries(value)) {
    // A normal law is a Student t of endlessly many degrees of freedom.
    if (key === 'df' && inside === Infinity) continue;
    check(of, inside, `${path}.${key}`);
  }
}

function isPlain(value: unknown): value is object {
  if (typeof value !== 'object' || value === null) return false;
  if (Array.isArray(value)) return true;
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}
