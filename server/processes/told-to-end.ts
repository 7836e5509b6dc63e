const SIGNALS = ['SIGINT', 'SIGTERM'] as const;

/** Aborted by a signal to end: the first is a wish, the second an order. */
export function toldToEnd(): AbortSignal {
  const told = new AbortController();
  const tell = () => {
    told.abort(new Error('The process is told to end.'));
    for (const signal of SIGNALS) process.on(signal, () => process.exit(1));
  };
  for (const signal of SIGNALS) process.once(signal, tell);
  return told.signal;
}

/** Resolves when it is aborted. */
export function whenAborted(signal: AbortSignal): Promise<void> {
  if (signal.aborted) return Promise.resolve();
  return new Promise((resolve) => {
    signal.addEventListener('abort', () => resolve(), { once: true });
  });
}
