const going = new Set<Promise<void>>();

/**
 * Notes native work that another thread does until this is settled: a process that ends in its middle is
 * brought down by it, with words that help nobody.
 */
export function noteNativeWork(work: Promise<unknown>): void {
  const over = work
    .then(
      () => undefined,
      () => undefined,
    )
    .finally(() => going.delete(over));
  going.add(over);
}

/** Settled when none is going on: then the process may end. */
export async function nativeWorkOver(): Promise<void> {
  while (going.size > 0) await Promise.all(going);
}
