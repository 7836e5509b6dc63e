import { followLanguage, say, speak } from './state/words.ts';
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import './style/tokens.css';
import './style/base.css';
import './style/home.css';
import './style/end.css';
import './style/verdict.css';
import './style/bench.css';
import { render } from 'preact';
import { App } from './app.tsx';
import { prepareOffline } from './keep/prepare-offline.ts';
import { startHandOver } from './keep/start-hand-over.ts';
import { announce } from './state/announce.ts';
import { goTo, route } from './state/route.ts';
import './state/theme.ts';

// A button must not look as if nobody had pressed it because something failed behind it.
const sayThatItFailed = () =>
  announce(say('That did not work: reload the page. What is kept stays kept.'));
addEventListener('unhandledrejection', sayThatItFailed);
addEventListener('error', ({ error }) => {
  // Without an error it is a note of the browser's, not a failure.
  if (error) sayThatItFailed();
});

await speak().catch(() => {
  // Without its texts the page speaks English; the choice stays.
});
followLanguage();
if (route.value.page === 'end') {
  const { restoreOwnEnds } = await import('./open-ends/ends.ts');
  await restoreOwnEnds().catch(() => {
    // Without storage the page still reads photos; it just cannot remember them.
  });
}
render(<App />, document.getElementById('app')!);
const asked = new URLSearchParams(location.search);
// Once: a reload must not ask again.
if (location.search) history.replaceState(null, '', `./${location.hash}`);
if (asked.has('paired')) {
  announce(say('Paired. Choose under Kept what goes into the log.'), {
    label: say('Choose'),
    run: () => goTo('kept'),
  });
}
if (asked.has('demo')) {
  const { openDemo } = await import('./open-ends/open-demo.ts');
  await openDemo();
}
void prepareOffline().catch(() => {
  // Without it the page works as long as the network does.
});
void startHandOver();
