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
import { byNeed } from './needs-look.ts';

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
}

const NO_NAME = 'Archer not named';

/** One sheet for the squad and one for each archer, in the order of the results. */
export function eveningSheets(lines: readonly EveningLine[], options: SheetOptions = {}): Sheet[] {
  const archers = [...new Set(lines.map((line) => line.archer))];
  const files = fileNames(archers);
  const bound = options.bound ?? 'files';
  const hrefs = new Map(
    archers.map((archer) => {
      const file = files.get(archer)!;
      return [archer, bound === 'files' ? file : `#${file.replace('.html', '')}`];
    }),
  );
  const squad = [squadTable(lines, archers, hrefs), lookList(lines, options)];
  const bodies = archers.map((archer) => {
    const own = lines.filter((line) => line.archer === archer);
    const parts = [...eveningGroups(own).map(groupSection), endsTable(own), lookList(own, options)];
    return { file: files.get(archer)!, title: archer || NO_NAME, parts };
  });
  if (bound === 'one-file') {
    const pages = bodies.map(
      ({ file, title, parts }) =>
        html`<article id="${file.replace('.html', '')}">
          <h1>${title}</h1>
          ${parts}
        </article>`,
    );
    return [sheet('sheets.html', 'Squad', [...squad, ...pages])];
  }
  return [
    sheet('squad.html', 'Squad', squad),
    ...bodies.map(({ file, title, parts }) => sheet(file, title, parts)),
  ];
}

function squadTable(
  lines: readonly EveningLine[],
  archers: readonly string[],
  hrefs: ReadonlyMap<string, string>,
): Html {
  const rows = archers.map((archer) => {
    const own = lines.filter((line) => line.archer === archer);
    const look = own.filter((line) => line.look.needed).length;
    const groups = eveningGroups(own);
    const name = html`<th scope="row" rowspan="${Math.max(1, groups.length)}">
      <a href="${hrefs.get(archer)}">${archer || NO_NAME}</a>
    </th>`;
    const looks = html`<td rowspan="${Math.max(1, groups.length)}">
      ${look > 0 ? `${look} of ${own.length}` : ''}
    </td>`;
    if (groups.length === 0)
      return html`<tr>
        ${name}
        <td colspan="6">nothing could be read</td>
        ${looks}
      </tr>`;
    return groups.map(
      (group, i) =>
        html`<tr>
          ${i === 0 ? name : null}
          <td>${whatWith(group)}</td>
          <td>${group.lines.length}</td>
          <td>${group.score.arrows}</td>
          <td>${average(group)}</td>
          <td>${spread(group)}</td>
          <td>${verdict(group)}</td>
          ${i === 0 ? looks : null}
        </tr>`,
    );
  });
  return html`<table>
    <thead>
      <tr>
        <th>Archer</th>
        <th>Shot with</th>
        <th>Ends</th>
        <th>Arrows</th>
        <th>Points an arrow</th>
        <th>Spread, mm</th>
        <th>Bare shafts</th>
        <th>Need a look</th>
      </tr>
    </thead>
    <tbody>
      ${rows}
    </tbody>
  </table>`;
}

function groupSection(group: EveningGroup): Html {
  const plot = drawGroups({
    face: FACES[group.face],
    arrows: group.arrows,
    groups: group.groups,
    distanceM: group.distanceM,
    plateRadiusMm: group.tuning?.plate?.radiusMm,
  });
  const cautions = [...new Set(group.tuning?.advice.flatMap((step) => step.cautions) ?? [])];
  return html`<section class="group">
    <div class="plot">${new Html(plot)}</div>
    <div>
      <h2>${whatWith(group)}</h2>
      <p>
        ${group.lines.length} ${group.lines.length === 1 ? 'end' : 'ends'}, ${group.score.arrows}
        arrows, ${group.score.total} points${parted(group)}, ${average(group)} a fletched arrow;
        spread ${spread(group)} mm per axis.
      </p>
      ${stillToLook(group)} ${group.tuning && html`<p>${group.tuning.summary}</p>`}
      <ol>
        ${group.tuning?.advice.map((step) => html`<li>${step.action} <small>${step.reason}</small></li>`)}
      </ol>
      ${cautions.map((caution) => html`<p class="caution">${caution}</p>`)}
    </div>
  </section>`;
}

function parted({ score }: EveningGroup): string {
  const words = tieBreakWords(score.tieBreak);
  return words === null ? '' : `, ${words}`;
}

/** Advice from marks that nobody has looked at yet is worth little. */
function stillToLook({ lines }: EveningGroup): Html | null {
  const open = lines.filter((line) => line.look.needed).length;
  if (open === 0) return null;
  return html`<p>
    <strong
      >${open} of these ${lines.length} ends still ${open === 1 ? 'needs' : 'need'} a look</strong
    >: correct them before anything is changed on the bow.
  </p>`;
}

function endsTable(lines: readonly EveningLine[]): Html {
  return html`<table>
    <thead>
      <tr>
        <th>Session</th>
        <th>End</th>
        <th>Time</th>
        <th>Arrows</th>
        <th>Points</th>
        <th>Values</th>
        <th>Bare from fletched, mm</th>
      </tr>
    </thead>
    <tbody>
      ${lines.map(endRow)}
    </tbody>
  </table>`;
}

function endRow(line: EveningLine): Html {
  const head = html`<td>${line.session}</td>
    <td>${line.end ?? line.photo}</td>
    <td>${line.takenAt?.slice(11, 16)}</td>`;
  if (!line.ok)
    return html`<tr>
      ${head}
      <td colspan="4">${line.error.message}</td>
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
    <td>${offset ? `${signed(offset[0])} right, ${signed(offset[1])} up` : null}</td>
  </tr>`;
}

function lookList(lines: readonly EveningLine[], { hrefOf }: SheetOptions): Html {
  const needed = lines.filter((line) => line.look.needed).sort(byNeed);
  if (needed.length === 0) return html`<p>Nothing needs a look.</p>`;
  return html`<section>
    <h2>Needs a look</h2>
    <ul>
      ${needed.map((line) => {
        const href = hrefOf?.(line) ?? null;
        const name = href === null ? line.photo : html`<a href="${href}">${line.photo}</a>`;
        return html`<li>${name}: ${line.look.reasons.join('; ')}</li>`;
      })}
    </ul>
  </section>`;
}

function whatWith(group: EveningGroup): string {
  const distance = group.distanceM === undefined ? '' : `, ${group.distanceM} m`;
  const rule = group.scoring === USUAL_SCORING ? '' : `, ${SCORINGS[group.scoring].name}`;
  return `${group.bow === '' ? '' : `${group.bow}, `}${FACES[group.face].name}${rule}${distance}`;
}

function average({ lines }: EveningGroup): string {
  const values = lines.flatMap(({ reading }) =>
    averagedValues(reading.marks.filter((mark) => mark.age !== 'old')),
  );
  if (values.length === 0) return '–';
  return (values.reduce((sum, value) => sum + value, 0) / values.length).toFixed(2);
}

function spread({ groups }: EveningGroup): string {
  const { fletched } = groups;
  if (fletched === null || fletched.sigmaMm === null) return '–';
  const interval = fletched.sigmaInterval95Mm?.map((mm) => mm.toFixed(0)).join('–');
  return `${fletched.sigmaMm.toFixed(0)}${interval === undefined ? '' : ` (${interval})`}`;
}

function verdict({ tuning }: EveningGroup): string {
  if (tuning === null) return '–';
  return [tuning.vertical, tuning.horizontal]
    .map(({ direction, certainty }) =>
      direction === 'level' ? direction : `${direction} (${certainty})`,
    )
    .join(', ');
}

function signed(mm: number): string {
  return `${mm < 0 ? '−' : '+'}${Math.abs(mm).toFixed(0)}`;
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

function sheet(file: string, title: string, parts: readonly Html[]): Sheet {
  const page = printPage({
    title,
    heading: title,
    body: parts,
    foot:
      'X inner ten, ? line call. Which arrows are bare shafts is a suggestion until a person has ' +
      'confirmed it. A photo never overrules a judge at the boss.',
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
