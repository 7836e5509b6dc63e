import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { html, Html } from '../../src/drawing/html.ts';
import { drawMark } from '../../src/drawing/draw-mark.ts';
import { GLYPH_NAMES, GLYPH_PATHS, glyphOf } from '../../src/drawing/mark-glyph.ts';
import { PAPER } from '../../src/drawing/palette.ts';
import { printPage } from '../../src/drawing/print-page.ts';
import { polyline, svg, svgNumber, svgText } from '../../src/drawing/svg.ts';
import { shortened, textWidth, wrapWords } from '../../src/drawing/text-width.ts';

describe('html', () => {
  it('lets no text of a person become markup', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const { text: out } = html`<p title="${text}">${text}</p>`;
        const inside = out.slice('<p title="'.length, -'</p>'.length);
        expect(inside.replace('">', '')).not.toMatch(/[<>"']/);
        expect(inside).not.toMatch(/&(?!(amp|lt|gt|quot|#39);)/);
      }),
    );
  });

  it('takes what is markup already as it is, lists one after another, and nothing for nothing', () => {
    const items = ['a & b', new Html('<b>c</b>'), null, undefined, 3];
    expect(html`<i>${items}</i>`.text).toBe('<i>a &amp; b<b>c</b>3</i>');
  });
});

describe('svg', () => {
  it('writes numbers that every reader of SVG 1.1 takes: no exponents, no minus zero', () => {
    expect([1e-7, -0, 1.23456, -2.5, 100].map(svgNumber)).toEqual([
      '0',
      '0',
      '1.235',
      '-2.5',
      '100',
    ]);
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
        expect(svgNumber(value)).toMatch(/^-?\d+(\.\d{1,3})?$/);
        expect(Math.abs(Number(svgNumber(value)) - value)).toBeLessThanOrEqual(0.00051);
      }),
    );
  });

  it('escapes attributes and texts, leaves out what is not there, and closes what is empty', () => {
    expect(svg('g', { id: 'a"<', x: undefined, y: null, r: 2 })).toBe(
      '<g id="a&quot;&lt;" r="2"/>',
    );
    expect(svgText({ x: 1 }, 'Ilka & <Juna>')).toBe('<text x="1">Ilka &amp; &lt;Juna&gt;</text>');
    expect(polyline([[0, 0], [1, 2.5]], 'closed')).toBe('M0 0L1 2.5Z'); // prettier-ignore
    expect(polyline([], 'closed')).toBe('');
  });
});

describe('texts in drawings', () => {
  it('breaks into lines that fit, loses no word, and cuts a word that fits nowhere', () => {
    const words = fc.array(fc.stringMatching(/^[a-z]{1,8}$/), { maxLength: 12 });
    fc.assert(
      fc.property(words, fc.integer({ min: 80, max: 300 }), (list, width) => {
        const lines = wrapWords(list.join(' '), width, 14);
        expect(lines.join(' ').split(' ').filter(Boolean)).toEqual(list);
        for (const line of lines) expect(textWidth(line, 14)).toBeLessThanOrEqual(width);
      }),
    );
    const [cut] = wrapWords('Nockpunkthöhenverstellung', 80, 14);
    expect(cut).toMatch(/^Nock.*…$/);
    expect(textWidth(cut!, 14)).toBeLessThanOrEqual(80);
  });

  it('counts letters as people do, and never cuts one in two', () => {
    expect(shortened('𝒜𝒷𝒸𝒹𝑒', textWidth('nnnn', 10), 10)).toBe('𝒜𝒷𝒸…');
    expect(shortened('short', 1000, 10)).toBe('short');
  });
});

describe('signs of marks', () => {
  it('differ by shape and by name, not by colour alone', () => {
    expect(new Set(Object.values(GLYPH_PATHS)).size).toBe(4);
    expect(new Set(Object.values(GLYPH_NAMES)).size).toBe(4);
  });

  it('show the kind while a mark may be of this end', () => {
    expect(glyphOf({ kind: 'bare', age: 'old' })).toBe('old');
    expect(glyphOf({ kind: 'bare', age: 'unknown' })).toBe('bare');
    expect(glyphOf({ kind: 'unknown', age: 'fresh' })).toBe('unknown');
  });

  it('are stroked as wide as asked whatever their size', () => {
    const drawn = drawMark({ glyph: 'bare', at: [3, 4], radius: 5, stroke: 2, palette: PAPER });
    expect(drawn).toContain('translate(3 4) scale(5)');
    expect(drawn).toContain(`stroke="${PAPER.bare}" stroke-width="0.4"`);
  });
});

it('prints one complete page whose title and texts are escaped', () => {
  const page = printPage({
    title: 'A & B',
    heading: 'A',
    body: [html`<p>${'<x>'}</p>`, null],
    foot: 'last',
    style: '.own { color: red }',
  });
  expect(page).toMatch(/^<!doctype html>/);
  expect(page).toContain('<title>A &amp; B</title>');
  expect(page).toContain('<p>&lt;x&gt;</p>');
  expect(page).toContain('.own { color: red }');
  expect(page.indexOf('class="foot"')).toBeGreaterThan(page.indexOf('&lt;x&gt;'));
});
