import { html, Html } from '../../src/drawing/html.ts';
import type { Words } from '../../src/words/words.ts';

const STYLE = new Html(`<style>
:root{--ground:#f5f3ec;--surface:#fffdf8;--ink:#19201c;--quiet:#545d57;--line:#8d9691;--press:#1d4d3c;--press-ink:#fff;--bad:#9c1c1c;--focus:#0b57d0}
@media (prefers-color-scheme:dark){:root{--ground:#131714;--surface:#1c211d;--ink:#eef0ea;--quiet:#a8b1aa;--line:#59625c;--press:#a5dbc0;--press-ink:#0c2419;--bad:#ffb1a8;--focus:#8ab4ff}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:26rem;padding:2.5rem 1.25rem;background:var(--ground);color:var(--ink);font:1.0625rem/1.5 system-ui,sans-serif}
h1{font-size:1.6rem;line-height:1.2;margin:0 0 1rem}
p{margin:0 0 1rem}
.quiet{color:var(--quiet)}
.bad{color:var(--bad);font-weight:600}
label{display:block;margin-bottom:.35rem;font-weight:600}
input,button,.button{display:block;width:100%;min-height:3rem;padding:.6rem .9rem;border-radius:12px;font:inherit;text-align:center;text-decoration:none}
input{border:1px solid var(--line);background:var(--surface);color:var(--ink);font-size:1.4rem;letter-spacing:.12em}
button,.button{margin-top:1rem;border:0;background:var(--press);color:var(--press-ink);font-weight:600;cursor:pointer}
:focus-visible{outline:3px solid var(--focus);outline-offset:2px}
</style>`);

/** A page without any script, for what a browser asks for by itself. */
export function plainPage(title: string, body: Html, { language }: Words): string {
  return html`<!doctype html>
    <html lang="${language}">
      <head>
        <meta charset="utf-8" />
        <title>${title}</title>
        <link rel="icon" href="data:," />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        ${STYLE}
      </head>
      <body>
        <main>
          <h1>${title}</h1>
          ${body}
        </main>
      </body>
    </html> `.text;
}

/** A sentence about what went wrong. */
export function badNews(message: string): Html {
  return html`<p class="bad" role="alert">${message}</p>`;
}
