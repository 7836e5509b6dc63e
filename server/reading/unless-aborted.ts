/** Waits for work that goes on whether or not somebody waits. Rejects with the signal's reason. */
export function unlessAborted<T>(work: Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  if (signal === undefined) return work;
  return new Promise((resolve, reject) => {
    const leave = () => reject(signal.reason as Error);
    if (signal.aborted) leave();
    signal.addEventListener('abort', leave, { once: true });
    work.then(resolve, reject).finally(() => signal.removeEventListener('abort', leave));
  });
}
