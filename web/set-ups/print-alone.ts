import type { PrintParts } from '../../src/drawing/print-page.ts';

/** Prints one sheet, and nothing else of the page that it is asked for from. */
export function printAlone({ title, content, style }: PrintParts): void {
  const holder = document.createElement('div');
  holder.className = 'print-alone';
  // Every value in it was escaped where the sheet was made.
  holder.innerHTML = content;
  const rules = document.createElement('style');
  rules.media = 'print';
  rules.textContent = style;
  const titleBefore = document.title;
  const root = document.documentElement;
  document.title = title;
  document.head.append(rules);
  document.body.append(holder);
  root.classList.add('printing-alone');
  const done = () => {
    root.classList.remove('printing-alone');
    holder.remove();
    rules.remove();
    document.title = titleBefore;
  };
  addEventListener('afterprint', done, { once: true });
  print();
}
