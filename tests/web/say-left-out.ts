/** Says at the end of the tests, where nobody overlooks it, that those of the page did not run. */
export default function sayLeftOut(): () => void {
  return () => {
    console.warn(
      '\n!! LEFT OUT: all of tests/web, since no Chromium, Chrome or Edge was found on this machine.\n' +
        '!! Install one, or name it: ENDWISE_BROWSER=/path/to/it npm test\n',
    );
  };
}
