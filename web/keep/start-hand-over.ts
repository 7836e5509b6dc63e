/** Hands over what waits: at the start, when the network comes back, and when the page is looked at. */
export async function startHandOver(): Promise<void> {
  const { handOver } = await import('./hand-over.ts');
  const attempt = () => {
    if (document.visibilityState === 'visible') void handOver().catch(() => {});
  };
  window.addEventListener('online', attempt);
  document.addEventListener('visibilitychange', attempt);
  attempt();
}
