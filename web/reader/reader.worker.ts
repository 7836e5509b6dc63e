import { loadEngine } from './load-engine.ts';

/*
 * Small, so that everything large is asked for at once and side by side: code that reads photos, OpenCV,
 * the networks' engine and their weights.
 */
const answering = import('./answer-message.ts');
// It is said with the photo.
loadEngine().catch(() => undefined);
// As an error of this worker's: the page then says that it could not be loaded.
answering.catch(reportError);

addEventListener('message', ({ data }: MessageEvent<unknown>) => {
  void answering.then(({ answerMessage }) => answerMessage(data)).catch(() => undefined);
});
