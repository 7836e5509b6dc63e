import { ENGLISH, type Words } from '../words/words.ts';
import { drawGroups } from '../drawing/draw-groups.ts';
import { zoneLabel } from '../drawing/zone-label.ts';
import { FACES } from '../face/faces.ts';
import { SCORINGS, USUAL_SCORING } from '../face/scoring.ts';
import { tieBreakWords } from '../marks/tie-break.ts';
import { eveningGroups, type EveningGroup } from './evening-groups.ts';
import type { EveningLine } from './evening-line.ts';
import { averagedValues } from '../marks/averaged-values.ts';
import { html, Html } from '../drawing/html.ts';
import { printPage } from '../drawing/print-page.ts';
import { byNeed, needsLook } from './needs-look.ts';

/** A page to print. */
export interface Sheet {
  /** File name without a folder. */
  readonly file: string;
  readonly title: string;
  readonly html: string;
}

export interface SheetOptions {
  /** One file per sheet, or all in one with a page for each. @default 'files' */
  readonly bound?: 'files' | 'one-file';
  /** Address at which a photo of the results can be corrected or seen; without it, its name only. */
  readonly hrefOf?: (line: EveningLine) => string | null;
  /** @default ENGLISH */
  readonly words?: Words;
}

/** One sheet for the squad and one for each archer, in the order of the results. */
export function eveningSheets(lines: readonly EveningLine[], options: SheetOptions = {}): Sheet[] {
  const archers = [...new Set(lines.map((line) => line.archer))];
  const files = fileNames(archers);
  const bound = options.bound ?? 'files';
  const { words = ENGLISH } = options;
  const squadTitle = words.say('Squad');
  const hrefs = new Map(
    archers.map((archer) => {
      const file = files.get(archer)!;
      return [archer, bound === 'files' ? file : `#${file.replace('.html', '')}`];
    }),
  );
  const squad = [squadTable(lines, archers, hrefs, words), lookList(lines, options)];
  const bodies = archers.map((archer) => {
    const own = lines.filter((line) => line.archer === archer);
    const groups = eveningGroups(own, words).map((group) => groupSection(group, words));
    const parts = [...groups, endsTable(own, words), lookList(own, options)];
    return { file: files.get(archer)!, title: archer || words.say('Archer not named'), parts };
  });
  if (bound === 'one-file') {
    const pages = bodies.map(
      ({ file, title, parts }) =>
        html`<article id="${file.replace('.html', '')}">
          <h1>${title}</h1>
          ${parts}
        </article>`,
    );
    return [sheet('sheets.html', squadTitle, [...squad, ...pages], words)];
  }
  return [
    sheet('squad.html', squadTitle, squad, words),
    ...bodies.map(({ file, title, parts }) => sheet(file, title, parts, words)),
  ];
}

function squadTable(
  lines: readonly EveningLine[],
  archers: readonly string[],
  hrefs: ReadonlyMap<string, string>,
  words: Words,
): Html {
  const { say } = words;
  const rows = archers.map((archer) => {
    const own = lines.filter((line) => line.archer === archer);
    const look = own.filter((line) => line.look.needed).length;
    const groups = eveningGroups(own, words);
    const name = html`<th scope="row" rowspan="${Math.max(1, groups.length)}">
      <a href="${hrefs.get(archer)}">${archer || say('Archer not named')}</a>
    </th>`;
    const looks = html`<td rowspan="${Math.max(1, groups.length)}">
      ${look > 0 ? say('{some} of {all}', { some: look, all: own.length }) : ''}
    </td>`;
    if (groups.length === 0)
      return html`<tr>
        ${name}
        <td colspan="6">${say('nothing could be read')}</td>
        ${looks}
      </tr>`;
    return groups.map(
      (group, i) =>
        html`<tr>
          ${i === 0 ? name : null}
          <td>${whatWith(group, words)}</td>
          <td>${group.lines.length}</td>
          <td>${group.score.arrows}</td>
          <td>${average(group, words)}</td>
          <td>${spread(group, words)}</td>
          <td>${verdict(group, words)}</td>
          ${i === 0 ? looks : null}
        </tr>`,
    );
  });
  return html`<table>
    <thead>
      <tr>
        <th>${say('Archer')}</th>
        <th>${say('Shot with')}</th>
        <th>${say('Ends')}</th>
        <th>${say('Arrows')}</th>
        <th>${say('Points an arrow')}</th>
        <th>${say('Spread')}, ${words.units.length}</th>
        <th>${say('Bare shafts')}</th>
        <th>${say('Need a look')}</th>
      </tr>
    </thead>
    <tbody>
      ${rows}
    </tbody>
  </table>`;
}

function groupSection(group: EveningGroup, words: Words): Html {
  const { say } = words;
  const plot = drawGroups(
    {
      face: FACES[group.face],
      arrows: group.arrows,
      groups: group.groups,
      distanceM: group.distanceM,
      plateRadiusMm: group.tuning?.plate?.radiusMm,
    },
    { words },
  );
  const cautions = [...new Set(group.tuning?.advice.flatMap((step) => step.cautions) ?? [])];
  return html`<section class="group">
    <div class="plot">${new Html(plot)}</div>
    <div>
      <h2>${whatWith(group, words)}</h2>
      <p>
        ${say(
          '{ends}, {arrows} arrows, {points} points{parted}, {average} a fletched arrow; spread {spread} {unit} per axis.',
          {
            ends: words.count(group.lines.length, '{n} end', '{n} ends'),
            arrows: group.score.arrows,
            points: group.score.total,
            parted: parted(group, words),
            average: average(group, words),
            spread: spread(group, words),
            unit: words.units.length,
          },
        )}
      </p>
      ${stillToLook(group, words)} ${group.tuning && html`<p>${group.tuning.summary}</p>`}
      <ol>
        ${group.tuning?.advice.map((step) => html`<li>${step.action} <small>${step.reason}</small></li>`)}
      </ol>
      ${cautions.map((caution) => html`<p class="caution">${caution}</p>`)}
    </div>
  </section>`;
}

function parted({ score }: EveningGroup, said: Words): string {
  const words = tieBreakWords(score.tieBreak, said);
  return words === null ? '' : `, ${words}`;
}

/** Advice from marks that nobody has looked at yet is worth little. */
function stillToLook({ lines }: EveningGroup, { say, count }: Words): Html | null {
  const open = lines.filter((line) => line.look.needed).length;
  if (open === 0) return null;
  const all = lines.length;
  return html`<p>
    <strong
      >${count(open, '{n} of these {all} ends still needs a look', '{n} of these {all} ends still need a look', { all })}</strong
    >: ${say('correct them before anything is changed on the bow.')}
  </p>`;
}

function endsTable(lines: readonly EveningLine[], words: Words): Html {
  const { say } = words;
  return html`<table>
    <thead>
      <tr>
        <th>${say('Session')}</th>
        <th>${say('End')}</th>
        <th>${say('Time')}</th>
        <th>${say('Arrows')}</th>
        <th>${say('Points')}</th>
        <th>${say('Values')}</th>
        <th>${say('Bare from fletched')}, ${words.units.length}</th>
      </tr>
    </thead>
    <tbody>
      ${lines.map((line) => endRow(line, words))}
    </tbody>
  </table>`;
}

function endRow(line: EveningLine, words: Words): Html {
  const { say, again } = words;
  const head = html`<td>${line.session}</td>
    <td>${line.end ?? line.photo}</td>
    <td>${line.takenAt?.slice(11, 16)}</td>`;
  if (!line.ok)
    return html`<tr>
      ${head}
      <td colspan="4">${again(line.error.message)}</td>
    </tr>`;
  const { score, marks, groups } = line.reading;
  const values = marks
    .filter((mark) => mark.age !== 'old')
    .sort((a, b) => b.zone - a.zone)
    .map((mark) => `${zoneLabel(mark)}${mark.lineCall ? '?' : ''}`);
  const offset = groups?.offset?.mm;
  return html`<tr>
    ${head}
    <td>${score.arrows}</td>
    <td>${score.total}</td>
    <td>${values.join(' ')}</td>
    <td>
      ${offset ? say('{right} right, {up} up', { right: signed(offset[0], words), up: signed(offset[1], words) }) : null}
    </td>
  </tr>`;
}

function lookList(lines: readonly EveningLine[], { hrefOf, words = ENGLISH }: SheetOptions): Html {
  const { say } = words;
  const needed = lines.filter((line) => line.look.needed).sort(byNeed);
  if (needed.length === 0) return html`<p>${say('Nothing needs a look.')}</p>`;
  return html`<section>
    <h2>${say('Needs a look')}</h2>
    <ul>
      ${needed.map((line) => {
        const href = hrefOf?.(line) ?? null;
        const name = href === null ? line.photo : html`<a href="${href}">${line.photo}</a>`;
        return html`<li>${name}: ${reasonsOf(line, words).join('; ')}</li>`;
      })}
    </ul>
  </section>`;
}

/** What to look at; results have it in the language that they were written in. */
function reasonsOf(line: EveningLine, words: Words): readonly string[] {
  if (words.language === 'en') return line.look.reasons;
  return line.ok
    ? needsLook(line.reading, line.request, words).reasons
    : [words.again(line.error.message)];
}

function whatWith({ bow, face, scoring, distanceM }: EveningGroup, words: Words): string {
  return [
    ...(bow === '' ? [] : [bow]),
    words.say(FACES[face].name),
    ...(scoring === USUAL_SCORING ? [] : [words.say(SCORINGS[scoring].name)]),
    ...(distanceM === undefined ? [] : [words.metres(distanceM)]),
  ].join(', ');
}

function average({ lines }: EveningGroup, { number }: Words): string {
  const values = lines.flatMap(({ reading }) =>
    averagedValues(reading.marks.filter((mark) => mark.age !== 'old')),
  );
  if (values.length === 0) return '–';
  return number(values.reduce((sum, value) => sum + value, 0) / values.length, 2);
}

function spread({ groups }: EveningGroup, { inLength }: Words): string {
  const { fletched } = groups;
  if (fletched === null || fletched.sigmaMm === null) return '–';
  const interval = fletched.sigmaInterval95Mm?.map((mm) => inLength(mm)).join('–');
  return `${inLength(fletched.sigmaMm)}${interval === undefined ? '' : ` (${interval})`}`;
}

function verdict({ tuning }: EveningGroup, { say }: Words): string {
  if (tuning === null) return '–';
  return [tuning.vertical, tuning.horizontal]
    .map(({ direction, certainty }) =>
      direction === 'level' ? say(direction) : `${say(direction)} (${say(certainty)})`,
    )
    .join(', ');
}

function signed(mm: number, { inLength }: Words): string {
  return `${mm < 0 ? '−' : '+'}${inLength(Math.abs(mm))}`;
}

/** Names made of letters and digits alone, each once; the archer's own name stands on the sheet. */
function fileNames(archers: readonly string[]): Map<string, string> {
  const taken = new Set<string>();
  return new Map(
    archers.map((archer) => {
      const plain = archer
        .normalize('NFKD')
        .replace(/[^A-Za-z0-9]+/g, '-')
        .replace(/^-+|-+$/g, '');
      const stem = `archer-${plain.slice(0, 40).toLowerCase() || 'not-named'}`;
      let name = stem;
      for (let n = 2; taken.has(name); n++) name = `${stem}-${n}`;
      taken.add(name);
      return [archer, `${name}.html`] as const;
    }),
  );
}

function sheet(file: string, title: string, parts: readonly Html[], words: Words): Sheet {
  const page = printPage({
    title,
    heading: title,
    body: parts,
    foot: words.say(
      'X inner ten, ? line call. Which arrows are bare shafts is a suggestion until a person has confirmed it. A photo never overrules a judge at the boss.',
    ),
    words,
    style: STYLE,
  });
  return { file, title, html: page };
}

const STYLE = `
table { margin: 4mm 0 } .group { break-inside: avoid }
.group { display: flex; gap: 6mm; margin: 4mm 0 } .plot { flex: 0 0 70mm } .plot svg { width: 70mm; height: 70mm }
.group > div:last-child { flex: 1 } ol { padding-left: 5mm; margin: 2mm 0 } small { color: #333 }
article { break-before: page; margin-top: 12mm } a { color: inherit }
@media print { a { text-decoration: none } }
@media (max-width: 640px) { .group { flex-direction: column } }
`;
