/** Says at the end of the tests, where nobody overlooks it, that nothing was tested with PostgreSQL. */
export default function sayLeftOut(): () => void {
  return () => {
    console.warn(
      '\n!! LEFT OUT: every test with PostgreSQL, since none was found on this machine.\n' +
        '!! Install it (Debian: postgresql), or name its programs: ENDWISE_POSTGRES=/path/to/bin npm test\n',
    );
  };
}
