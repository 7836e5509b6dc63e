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
import { route } from './state/route.ts';
import './state/theme.ts';

if (route.value.page === 'end') {
  const { restoreOwnEnds } = await import('./open-ends/ends.ts');
  await restoreOwnEnds().catch(() => {
    // Without storage the page still reads photos; it just cannot remember them.
  });
}
render(<App />, document.getElementById('app')!);
if (new URLSearchParams(location.search).has('demo')) {
  // Once: a reload must not open a second one.
  history.replaceState(null, '', `./${location.hash}`);
  const { openDemo } = await import('./open-ends/open-demo.ts');
  await openDemo();
}
void prepareOffline();
void startHandOver();
