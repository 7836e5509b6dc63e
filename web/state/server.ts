/** False where the page lies as files on a web space, with no log behind it to hand ends to. */
export const HAS_SERVER =
  document.querySelector('meta[name="endwise-server"][content="none"]') === null;
