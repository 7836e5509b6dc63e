/** The same function, whose calls wait for one another: a network's session runs one at a time. */
export function oneAtATime<Arguments extends unknown[], Answer>(
  run: (...args: Arguments) => Promise<Answer>,
): (...args: Arguments) => Promise<Answer> {
  let last: Promise<unknown> = Promise.resolve();
  return (...args) => {
    const mine = last.then(() => run(...args));
    last = mine.catch(() => undefined);
    return mine;
  };
}
